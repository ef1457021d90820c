"""The whole job as read: the project, the house as drawn, its options, and what the practice knows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from takeoff.model.allowance import Allowance
from takeoff.model.bill import Information, IssueRecord, Override, Query, ToTake
from takeoff.model.fabric import Fabric
from takeoff.model.house import Design, House, Option
from takeoff.model.library import Library, Project
from takeoff.model.problem import Origin
from takeoff.model.scaling import scaled
from takeoff.model.study import Study


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """Everything the documents are made from."""

    project: Project
    design: Design
    options: tuple[Option, ...]
    library: Library
    allowances: tuple[Allowance, ...] = ()
    study: Study = field(default_factory=Study)
    fabric: Fabric = field(default_factory=Fabric)
    overrides: tuple[Override, ...] = ()
    queries: tuple[Query, ...] = ()
    to_take: tuple[ToTake, ...] = ()
    information: tuple[Information, ...] = ()
    issues: tuple[IssueRecord, ...] = ()

    @property
    def base(self) -> Option:
        """The first option, which the others are compared with."""
        return self.options[0]

    def option(self, name: str) -> Option:
        """Return the option of a name, upper and lower case alike. Raises KeyError if there is none."""
        for option in self.options:
            if option.name.lower() == name.strip().lower():
                return option
        raise KeyError(name)

    def design_of(self, option: Option) -> Design:
        """Return the design with the changes of the base and then of the option made to it."""
        return apply_changes(apply_changes(self.design, self.base), option)


def apply_changes(design: Design, option: Option) -> Design:
    """Return the design with its settings changed; changed settings carry the option's cells.

    Where length or span change, rooms and openings are drawn out with them (`takeoff.model.scaling`).
    """
    if not option.changes:
        return design
    origin: Mapping[str, Origin] = {**design.house.origin, **option.origin}
    house: House = replace(design.house, **option.changes, origin=origin)  # type: ignore[arg-type]
    return scaled(design, house, keep_support_lines="support_lines" in option.changes)
