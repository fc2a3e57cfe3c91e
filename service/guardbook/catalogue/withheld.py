"""Names that may not be told to the public, wherever they stand in a text."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator

from guardbook.catalogue.folding import Token, tokens, words

IN_ITS_PLACE = "[name withheld]"

Spelling = tuple[str, ...]


class Withheld:
    """Finds names in texts, whatever their accents, case and punctuation.

    `Anna Ferrer Puig` is found as it stands, as `Ferrer Puig, Anna` and as `anna_ferrer_puig` or
    `annaferrerpuig`, but not a part of it; single letters are no name.
    """

    def __init__(self, names: Iterable[str]) -> None:
        found = sorted({spelling for name in names for spelling in spellings(name)}, key=len, reverse=True)
        self._by_first_word: dict[str, list[Spelling]] = defaultdict(list)
        for spelling in found:
            self._by_first_word[spelling[0]].append(spelling)

    def removed_from(self, text: str) -> str:
        """Give the text with `[name withheld]` in place of each name."""
        shown, done = [], 0
        for start, end in self._places(tokens(text)) if self._by_first_word else ():
            shown += [text[done:start], IN_ITS_PLACE]
            done = end
        return "".join([*shown, text[done:]]) if done else text

    def _places(self, read: list[Token]) -> Iterator[tuple[int, int]]:
        at = 0
        while at < len(read):
            candidates = self._by_first_word.get(read[at].word, ())
            length = next((len(spelling) for spelling in candidates if _stands(spelling, read, at)), 0)
            if length:
                yield read[at].start, read[at + length - 1].end
            at += length or 1


def _stands(spelling: Spelling, read: list[Token], at: int) -> bool:
    return tuple(token.word for token in read[at : at + len(spelling)]) == spelling


def spellings(name: str) -> frozenset[Spelling]:
    """Give the words of a name as they may stand: in order, surnames first, or run together."""
    given = tuple(words(name))
    if len("".join(given)) < 2:
        return frozenset()
    turned = [given[at:] + given[:at] for at in range(len(given))]
    return frozenset([*turned, *(("".join(spelling),) for spelling in turned)])
