"""The API: the same records and the same core as the pages, in JSON."""
