"""`python -m guidebuild`."""

from guidebuild.cli import run

if __name__ == "__main__":
    run()
