"""Walks along a main, planned: pure Python, stations in mm."""
