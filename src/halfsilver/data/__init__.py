"""Tables and files that ship with the program."""
