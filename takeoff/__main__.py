"""Run the command line with `python -m takeoff`."""

from takeoff.cli import main

main()
