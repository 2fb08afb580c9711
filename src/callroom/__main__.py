"""``python -m callroom`` is the ``callroom`` command."""

from callroom.cli import main

if __name__ == "__main__":
    main()
