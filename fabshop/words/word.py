"""What every fixed word can do: say its label and the edge of its stamp."""

from __future__ import annotations

from enum import StrEnum

# By kind and value: two words of different kinds may be spelt alike.
_LABELS: dict[tuple[type, str], str] = {}
_EDGES: dict[tuple[type, str], str] = {}


class Word(StrEnum):
    """A fixed word; `label` is what is shown, `edge` how its stamp is drawn."""

    @property
    def label(self) -> str:
        return _LABELS.get((type(self), self.value), self.value.replace("-", " "))

    @property
    def edge(self) -> str:
        """One of solid, dashed, double, hatched: the edge of the stamped word."""
        return _EDGES.get((type(self), self.value), "solid")

    @classmethod
    def choices(cls) -> list[tuple[str, str]]:
        return [(word.value, word.label) for word in cls]


def labelled(*pairs: tuple[Word, str]) -> None:
    """Say what is shown for words whose value does not say it well."""
    _LABELS.update({(type(word), word.value): text for word, text in pairs})


def stamped(*pairs: tuple[Word, str]) -> None:
    """Give words an edge; the same edge means the same on paper and on the phone."""
    _EDGES.update({(type(word), word.value): edge for word, edge in pairs})
