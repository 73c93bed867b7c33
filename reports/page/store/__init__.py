"""What is kept: projects, searches, clients; the backup of all."""
