"""Everything that the drawing a piece is placed on says, in the language of whoever places it.

`static/placing.js` reads it as JSON from the page and puts values in by name.
"""

from __future__ import annotations

from guardbook.wording import _


def words_for_the_drawing() -> dict[str, str]:
    """Give the words of the drawing by what they are for."""
    return {**_tools(), **_told(), **_traces(), **_mishaps()}


def _tools() -> dict[str, str]:
    return {
        "planes": _("Where in the volume"),
        "morePlanes": _("{count} more"),
        "exactly": _("Move exactly"),
        "move": _("Move"),
        "moveLeft": _("Left"),
        "moveRight": _("Right"),
        "moveUp": _("Towards the head"),
        "moveDown": _("Towards the tail"),
        "step": _("Step"),
        "stepOf": _("{mm} mm"),
        "turn": _("Turn and flip"),
        "turnHandle": _("Turn the piece"),
        "turnLeft": _("90° left"),
        "turnRight": _("90° right"),
        "turnLeftLittle": _("1° left"),
        "turnRightLittle": _("1° right"),
        "flip": _("Flip"),
        "flipTold": _("Flip: turn the front face to or from the viewer"),
        "undo": _("Undo"),
        "redo": _("Do again"),
        "snap": _("Snap to lines"),
        "against": _("Lay it against"),
        "lay": _("Lay"),
        "look": _("Look"),
        "nearer": _("Nearer"),
        "farther": _("Farther"),
        "wholePlane": _("All of it"),
        "toPiece": _("Only the piece"),
        "hand": _("What a touch does"),
        "handMove": _("Move the piece"),
        "handHoles": _("Mark holes"),
        "handFoldAcross": _("Mark folds across"),
        "handFoldAlong": _("Mark folds from tail to head"),
    }


def _told() -> dict[str, str]:
    return {
        "drawing": _("Drawing: {plane}"),
        "keys": _(
            "Drag the piece, or use the arrow keys: 1 mm a step, 10 mm with Shift, 0.1 mm with Alt."
            " [ and ] turn it by one degree, R by a quarter turn, F flips it, Ctrl+Z takes a step back."
        ),
        "head": _("head"),
        "tail": _("tail"),
        "front": _("front face"),
        "back": _("back face"),
        "thisPiece": _("this piece"),
        "turned": _("turned {angle}° anticlockwise"),
        "flipped": _("front face turned away"),
        "fromTail": _("{length} mm from the tail"),
        "belowTail": _("{length} mm below the tail"),
        "snapped": _("Laid against: {line}."),
        "notPlaced": _("Not placed yet: drag the piece to its place, or type x and y."),
        "pieceSizeUnknown": _("The size of the piece is not known, so only its tail-left corner is drawn."),
        "edgesUnknown": _("The edges of this plane are not recorded; what is drawn is only room to work in."),
        "undone": _("Taken back."),
        "redone": _("Done again."),
    }


def _traces() -> dict[str, str]:
    return {
        "marked": _("Holes and folds marked"),
        "hole": _("Hole, {mm} mm from the tail"),
        "holeAt": _("Hole, {mm} mm from the tail and {x} mm from the left edge"),
        "foldAcross": _("Fold across, {mm} mm from the tail"),
        "foldAlong": _("Fold from tail to head, {x} mm from the left edge"),
        "foldSlanting": _("Fold from {x} / {mm} to {toX} / {toMm} mm"),
        "remove": _("Remove"),
        "removeThis": _("Remove: {what}"),
        "removed": _("Removed: {what}."),
        "added": _("Added: {what}."),
        "series": _("series {number}"),
        "outsidePiece": _("That is not on the piece: {mm} mm outside its edge. Nothing was marked."),
        "placeFirst": _("Put the piece in its place first, then mark holes and folds on it."),
    }


def _mishaps() -> dict[str, str]:
    return {
        "loading": _("The drawing of the volume is being fetched …"),
        "noHost": _("Choose the volume first; it is then drawn here. The numbers can be typed already."),
        "noDrawing": _("The volume cannot be drawn here ({why}). Type the numbers below: they are enough."),
        "offline": _("no connection"),
        "tryAgain": _("Try again"),
        "noPlane": _("Choose where in the volume the piece lies: it is then drawn here."),
        "unreadable": _("{label}: “{typed}” is not a number. What you typed is kept."),
        "unreadableList": _("{label}: “{typed}” cannot be read. What you typed is kept."),
    }
