"""Starting sites from files that somebody else made."""
