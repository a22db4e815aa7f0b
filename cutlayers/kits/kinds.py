"""The kinds of box in a kit: boxes alike in size and card, however they are lettered, and how many
of each all rows together make."""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Mapping, Sequence
from dataclasses import replace

from cutlayers.frozen import frozen
from cutlayers.guide.page.amounts import length_text
from cutlayers.job.order import Job, Order
from cutlayers.kits.checking import Kit, job_for, shape_of
from cutlayers.telling.lengths import Unit

MOST_KINDS = 12
"""Kinds of one kit that are told apart; where there are more, each piece of the job is told in the
size that is made most often."""


@frozen
class BoxKind:
    """A kind of box: how many there are, the row that makes it first, and its place among the
    orders of that row's job. `sizes` is 1, or how many sizes are told as one."""

    row: int
    order: int
    count: int
    sizes: int = 1


class Kinds:
    """Takes the rows' jobs one by one and keeps of each kind of box no more than where it is."""

    def __init__(self) -> None:
        self._found: dict[Hashable, BoxKind] = {}

    def take(self, row: int, job: Job) -> None:
        """Count the boxes of a row's job."""
        for number, order in enumerate(job.orders):
            stocks = tuple(order.stock_of(net.name) for net in order.box.nets)
            key = (number, shape_of(order), stocks)
            known = self._found.get(key, BoxKind(row, number, 0))
            self._found[key] = replace(known, count=known.count + order.count)

    @property
    def all(self) -> tuple[BoxKind, ...]:
        """The kinds, in the order of the job's pieces and of the rows."""
        found = sorted(self._found.values(), key=lambda kind: (kind.order, kind.row))
        return tuple(found) if len(found) <= MOST_KINDS else tuple(_merged(found))


def _merged(kinds: Sequence[BoxKind]) -> Iterator[BoxKind]:
    for number in dict.fromkeys(kind.order for kind in kinds):
        mine = [kind for kind in kinds if kind.order == number]
        most = max(mine, key=lambda kind: kind.count)
        yield replace(most, count=sum(kind.count for kind in mine), sizes=len(mine))


def job_of_kinds(kit: Kit, kinds: Sequence[BoxKind], take_up: Mapping[str, float]) -> Job:
    """A job that makes as many boxes of each kind as the kit does, lettered and printed as those of
    the row that is the first to make it."""
    jobs = {
        row: job_for(kit.job_file, kit.table, kit.rows.rows[row], take_up)
        for row in dict.fromkeys(kind.row for kind in kinds)
    }
    orders = [jobs[kind.row].orders[kind.order] for kind in kinds]
    names = _told_apart(kinds, orders, kit)
    return replace(
        jobs[kinds[0].row],
        title=str(kit.table.get("title") or jobs[kinds[0].row].title),
        orders=tuple(
            replace(order, name=name, count=kind.count)
            for kind, order, name in zip(kinds, orders, names, strict=True)
        ),
    )


def _told_apart(kinds: Sequence[BoxKind], orders: Sequence[Order], kit: Kit) -> list[str]:
    """A name for each kind, no two the same: as the job has it, with the sizes that are its own."""
    every = list(zip(kinds, orders, strict=True))
    names: list[str] = []
    for kind, order in every:
        alike = [each for other, each in every if other.order == kind.order]
        written = _written_name(kind.order, order, kit)
        name = ", ".join((written, *_own_sizes(order, alike, kit.unit)))
        same = sum(each == name or each.startswith(f"{name} (") for each in names)
        names.append(f"{name} ({same + 1})" if same else name)
    return names


def _written_name(number: int, order: Order, kit: Kit) -> str:
    """What the job calls its boxes, where each has another name: as it stands in the file."""
    written = kit.table["piece"][number].get("name")
    return written if isinstance(written, str) and "{" in written else order.name


def _own_sizes(order: Order, alike: Sequence[Order], unit: Unit) -> Iterator[str]:
    """The sizes of a box that others of its piece do not have."""
    every = [_sizes(each) for each in alike]
    for name, size in _sizes(order).items():
        if any(other.get(name) != size for other in every):
            yield f"{name} {length_text(size, unit)}"


def _sizes(order: Order) -> dict[str, float]:
    return dict(order.box.origin.sizes) if order.box.origin else {}
