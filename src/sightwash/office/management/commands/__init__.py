"""Commands for whoever looks after the office."""
