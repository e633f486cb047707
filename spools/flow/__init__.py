"""How a spool moves through the shop: roles, steps, routes and where it stands. Plain Python."""
