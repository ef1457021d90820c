"""The solver, set so that it prints nothing and goes the same way on every machine."""

from __future__ import annotations

import highspy

_LAST_RESORT = 60.0
"""Seconds after which a search is broken off, far above what its limit in nodes takes."""

_PRIMAL = 4
"""The solver's number for the primal simplex method."""


class SolverError(Exception):
    """The solver did not come back with a solution it vouches for."""


class QuietHighs(highspy.Highs):
    """The solver without its banner, which the constructor prints before output can be turned off."""

    def enableCallbacks(self) -> None:  # noqa: N802 (the solver's own name)
        """Turn output off first: this is the call that prints."""
        self.silent()
        super().enableCallbacks()  # type: ignore[no-untyped-call]


def warm_solver() -> highspy.Highs:
    """Return a solver for a linear programme that is solved again and again from where it stood."""
    solver = _quiet_solver()
    # what presolve takes out could not be started from
    solver.setOptionValue("presolve", "off")
    solver.setOptionValue("solver", "simplex")
    # with columns added the last solution still holds, so the primal method goes on from it
    solver.setOptionValue("simplex_strategy", _PRIMAL)
    return solver


def searching_solver(nodes: int) -> highspy.Highs:
    """Return a solver for whole numbers that stops after so many nodes of its search tree."""
    solver = _quiet_solver()
    solver.setOptionValue("mip_max_nodes", nodes)
    solver.setOptionValue("time_limit", _LAST_RESORT)
    # these two solve a smaller search before the first node, which takes longer here than it is worth
    solver.setOptionValue("mip_heuristic_run_rens", False)
    solver.setOptionValue("mip_heuristic_run_root_reduced_cost", False)
    return solver


def _quiet_solver() -> highspy.Highs:
    """Return a solver that prints nothing, on one thread and with its seed fixed."""
    solver = QuietHighs()  # type: ignore[no-untyped-call]
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("random_seed", 0)
    return solver
