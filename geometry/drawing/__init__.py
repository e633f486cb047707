"""Drawings as plain shapes in millimeters, y upward, so that one description serves every renderer."""
