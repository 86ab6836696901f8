"""How the store keeps cases: a file of SQLite or a server of PostgreSQL, its schema, its mending, backup and restore."""
