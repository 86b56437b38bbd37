"""The list of properties, and ways to add one."""
