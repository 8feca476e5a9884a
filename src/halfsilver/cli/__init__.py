"""The command line: a thin face over ``services``; nothing is computed here."""
