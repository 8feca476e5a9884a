"""``python -m halfsilver``: the command line."""

from halfsilver.cli.main import main

if __name__ == "__main__":
    main()
