"""The workshop in a browser: a thin face over ``services``; nothing is computed here."""
