"""Floor 0: units, money, errors and the register of sources. Standard library only."""
