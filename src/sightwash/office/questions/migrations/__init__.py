"""How the tables of this part came to be."""
