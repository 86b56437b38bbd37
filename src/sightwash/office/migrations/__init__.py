"""The database's steps from one form to the next."""
