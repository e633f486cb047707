"""Backups: one .tar with the whole database, the uploads and the papers, and the way back."""
