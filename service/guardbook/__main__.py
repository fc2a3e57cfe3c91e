"""`python -m guardbook` is the `guardbook` command."""

from guardbook.cli import main

if __name__ == "__main__":
    main()
