"""The form of the bench as rows: the fields with what is typed in them, and what is to be told of them."""

from collections.abc import Mapping

from ..calculator import Field, rank
from ..catalog import load
from ..fields import Choice
from ..form import Entry
from .editing import LONGEST, Edit
from .frame import BLANK, LEAST, LEFT, holding
from .keys import first_key
from .paint import Row, Rows, cells, fit, fitted, folded, row, size_of, window, words_of
from .session import Session, ShownCalculator

_NOTE = 24  # columns of what is said beside a field, before a long value takes them


class FormView:
    """The fields of the open calculator, which of them is in hand, and how far they are scrolled."""

    def __init__(self, session: Session, keys: Mapping[str, str]) -> None:
        self.session, self.keys = session, keys
        self.fields: list[Field] = []
        self.edits: list[Edit] = []  # what is typed in each
        self.in_hand = 0  # which field has the cursor
        self.all_asked = False  # whether fields stand there that are asked seldom
        self.top = self.furthest = 0
        self.held = 0  # rows that were told under the fields last, so that nothing jumps from key to key
        self.shown: ShownCalculator | None = None

    # --- state ----------------------------------------------------------------------------------------------------

    def renew(self) -> None:
        """Take up another calculator, spar or boat."""
        self.fields = list(load(self.session.calculator).typed_fields)
        self.edits = [Edit() for _ in self.fields]
        self.in_hand, self.all_asked = 0, False
        self.top = self.held = 0

    def take_texts(self) -> None:
        """Show what is typed as the session has it now, as after undo."""
        texts = self.session.texts()
        for field, edit in zip(self.fields, self.edits, strict=True):
            if edit.text != texts.get(field.name, ""):
                edit.set(texts.get(field.name, ""))

    def asked(self) -> list[int]:
        """The places of the fields that stand in the form: those asked first, those typed over, those with a fault."""
        faulty = {fault.field for fault in self.shown.faults} if self.shown else set()
        most = 0 if self.session.spar else 1
        return [
            place
            for place, (field, edit) in enumerate(zip(self.fields, self.edits, strict=True))
            if self.all_asked or rank(field) <= most or edit.text or field.name in faulty or place == self.in_hand
        ]

    def ask_all(self) -> bool:
        """Let the fields stand there that are asked seldom, the first of them in hand; False when they do."""
        hidden = sorted(set(range(len(self.fields))) - set(self.asked()))
        if hidden:
            self.all_asked, self.in_hand = True, hidden[0]
        return bool(hidden)

    def go(self, by: int) -> bool:
        """To the next field that stands in the form; False at its end."""
        asked = self.asked()
        to = asked.index(self.in_hand) + by
        if 0 <= to < len(asked):
            self.in_hand = asked[to]
        return 0 <= to < len(asked)

    # --- drawing --------------------------------------------------------------------------------------------------

    def draw(self, shown: ShownCalculator, width: int, height: int, parts: dict[str, Rows], narrow: bool) -> list[Row]:
        """The fields, and under them what is to be told of them. The parts that it makes are put in `parts`."""
        wide = width > LEFT and not narrow
        label_width, field_width = self._widths(shown, width, wide, narrow)
        faulty = {fault.field for fault in shown.faults}
        lines: list[Row] = []
        labels: list[Row] = []
        notes: list[Row] = []
        asked = self.asked()
        room = max(0, width - label_width - field_width - 1)
        for place, (entry, edit) in enumerate(zip(shown.form.typed, self.edits, strict=True)):
            fault = entry.field.name in faulty
            sign, words = self._note(entry, fault)
            role = "error" if sign == "✗" else "bold" if sign == "=" else "quiet"
            note = row((f"{sign} {words}".rstrip() if wide else sign, role))
            labels.append(row(entry.field.kind.label))
            notes.append(note)
            if place not in asked:
                continue
            name = row(f"{fitted(entry.field.kind.label, label_width - 1):<{label_width}}")
            if wide and size_of(note) > room:  # the first of it, or its sign; the field in hand says it all below
                first = words_of(note).partition(", ")[0]
                note = row((first if cells(first) <= room else sign, role))
            typed = self._field(entry, edit, field_width, fault or entry.fault is not None, place == self.in_hand)
            lines.append(fit((*name, *typed, (" ", ""), *fit(note, room)), width))
        parts["labels"], parts["notes"] = Rows(labels), Rows(notes)
        parts["told"] = self._told(shown, room if wide else 0, field_width if wide else LONGEST)
        if len(asked) < len(self.fields):
            more = f"… {len(self.fields) - len(asked)} more; enter at the last one"
            lines.append(fit(row((more, "quiet italic")), width))
        told = holding(folded(parts["told"], width), self.held, max(1, height // 2))
        self.held = len(told)
        if narrow and not shown.faults and height < LEAST + len(told):  # the fields before what is said of them
            told = Rows()
        most = max(1, min(5 if narrow else height, height - len(told)))
        seen = window(lines, self.top, most, asked.index(self.in_hand))
        self.top, self.furthest = seen.top, seen.furthest
        gap = [BLANK] if wide else []
        return [*seen.lines, *gap, *told]

    def _widths(self, shown: ShownCalculator, width: int, wide: bool, narrow: bool) -> tuple[int, int]:
        """Columns of the labels and of the fields: no label is cut where there is room."""
        label, field = (27, 16) if narrow else (20, 15 if wide else 12)
        if wide:
            longest = max(len(entry.field.kind.label) for entry in shown.form.typed) + 1
            label = min(max(label, longest), max(label, width - field - 8))
            values = max(cells(self.placeholder(entry, LONGEST)) for entry in shown.form.typed) + 1
            field = min(max(field, values), max(field, width - label - _NOTE))
        return label, field

    def _field(self, entry: Entry, edit: Edit, width: int, fault: bool, has_cursor: bool) -> Row:
        """What is typed, or what the field follows or takes by default while nothing is typed over it."""
        ground = "held bold" if has_cursor else "field"
        ground = f"{ground} error" if fault else ground
        if edit.text:
            return edit.drawn(width, ground, has_cursor)
        text = self.placeholder(entry, width - 1)
        if not has_cursor:
            return fit(row((text, ground)), width, ground)
        return fit(row((text[:1] or " ", f"{ground} reverse"), (text[1:], ground)), width, ground)

    def placeholder(self, entry: Entry, room: int) -> str:
        """What stands in an empty field, in `room` columns."""
        kind, rule = entry.field.kind, self.session.rule
        if entry.origin == "missing":
            return "needed"
        value = entry.value if entry.would_be is None else entry.would_be
        shown = "" if value is None else entry.shown(rule) if entry.origin == "default" else kind.show(value, rule)
        assumed = " assumed" if shown and self._assumed(entry) else ""
        if len(shown + assumed) > room:  # the unit stands at the top of the screen too
            shown = shown.replace(f" {rule.unit}", "")
        return fitted(shown + assumed, room)

    def _assumed(self, entry: Entry) -> bool:
        """Whether a value of the shop is taken that nobody entered."""
        return entry.origin == "default" and entry.field.kind.follows.startswith("shop.") and entry.value is not None

    def _note(self, entry: Entry, faulty: bool) -> tuple[str, str]:
        """The sign beside a field, and what it says."""
        kind, rule = entry.field.kind, self.session.rule
        if faulty:
            return "✗", ""
        if entry.origin == "typed":
            was = "" if entry.would_be is None else f", not {kind.show(entry.would_be, rule)}"
            return "=", f"{kind.show(entry.value, rule)}{was}"
        if entry.origin == "follows":
            return "⇠", entry.follows
        if self._assumed(entry):
            return "·", f"assumed; {first_key(self.keys, 'shop')} to enter yours"
        return "·", "optional" if entry.value is None else "default"

    def _told(self, shown: ShownCalculator, beside: int, room: int) -> Rows:
        """Every fault; else what the field with the cursor says, where that has no room in the columns `beside`
        it; and what it follows, where the field has no `room` for that.
        """
        labels = {field.name: field.kind.label for field in shown.calculator.input_fields}
        lines: list[Row] = []
        for fault in shown.faults:
            label = f"{labels[fault.field]}: " if fault.field in labels else ""
            lines.append(row((f"✗ {label}{fault.reason}", "error")))
        if not lines and self.fields:
            entry = next(entry for entry in shown.form.typed if entry.field is self.fields[self.in_hand])
            kind = entry.field.kind
            options = f" ({' | '.join(kind.options)})" if isinstance(kind, Choice) else ""
            note = " ".join(self._note(entry, False)).rstrip()
            value = "" if self.edits[self.in_hand].text else self.placeholder(entry, LONGEST)
            whole = f"{note}: {value}" if cells(value) >= room else note
            if cells(whole) > beside:
                lines.append(row((f"{whole}{options}", "quiet")))
        return Rows(lines)
