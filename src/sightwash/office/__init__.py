"""The office: the second door to the core, a web application for one person or for twenty."""
