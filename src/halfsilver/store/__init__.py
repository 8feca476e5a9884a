"""The store: records with their full history, packs, and archives of them; SQLite by default, PostgreSQL by choice."""
