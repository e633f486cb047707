"""The invented job in numbers and names: what the player must reach, and where its stories sit."""

from dataclasses import dataclass

SHOP = "Pellworth Pipe"
ZONE = "America/Chicago"
JOB_NUMBER = "2208"
JOB_NAME = "East apron stormwater gallery, Tolvane Regional Airport"
GENERAL_CONTRACTOR = "Larkfield Civil"
CUSTOMER = "Brannock & Osei Mechanical"
GALVANIZER = "Dunmere Galvanizing, 38 miles"
SITE = "Tolvane Regional Airport, east apron"

TIE_INS = 312
NOT_MEASURED = 64
NPS_8 = 64
GALLERY_FT = 4080
SHAFT_EVERY_FT = 2040

# By day number of the story; the other parts of the month are counted from these.
HOLIDAY = 10
LAST_DAY = 23
# How many spools come due in each due week, and how many of them are accepted by then.
DUE_BY_WEEK = (38, 52, 66, 65)
ON_TIME_BY_WEEK = (30, 34, 62, 60)


@dataclass(frozen=True, slots=True)
class Counts:
    """Live spools by where they stand at the end of the last day."""

    delivered: int = 158
    back_in_yard: int = 14
    at_galvanizer: int = 31
    ready_for_coating: int = 12
    waiting_visual: int = 3
    to_weld: int = 11
    to_prepare: int = 6
    to_cut: int = 8
    held: int = 5

    @property
    def accepted(self) -> int:
        """Spools past the visual check."""
        return self.delivered + self.back_in_yard + self.at_galvanizer + self.ready_for_coating

    @property
    def in_work(self) -> int:
        """Spools not yet accepted."""
        return self.waiting_visual + self.to_weld + self.to_prepare + self.to_cut + self.held

    @property
    def measured(self) -> int:
        """Tie-ins with a spool."""
        return self.accepted + self.in_work


COUNTS = Counts()

# The stories, each with the tie-in that tells it. A seat is the day of receipt, the crew, the batch (0 is the one
# before noon) and the place in the batch.
Seat = tuple[int, int, int, int]
SEATS: dict[str, Seat] = {
    "weld repair, early": (5, 1, 1, 0),
    "does not fit, made again": (9, 1, 0, 2),
    "does not fit, trimmed": (9, 1, 0, 1),
    "weld repair, second": (11, 1, 0, 1),
    "wrong cut, first": (11, 1, 1, 0),
    "lost at the galvanizer": (14, 1, 1, 1),
    "read twice": (14, 2, 0, 0),
    "other side": (14, 1, 1, 0),
    "weld repair, third": (15, 1, 0, 1),
    "revised, made again": (15, 1, 1, 0),
    "wrong cut, second": (16, 1, 0, 0),
    "wrong cut, third": (17, 2, 0, 0),
    "heat typed wrong": (18, 1, 0, 0),
    "three legs": (20, 1, 0, 0),
    "revised, held": (21, 1, 0, 0),
    "field question": (21, 2, 0, 0),
    "weld repair, open": (22, 1, 1, 0),
    "visual, late": (22, 2, 1, 0),
}
RELEASED_BY_FOREMAN: tuple[Seat, ...] = ((5, 1, 0, 1), (6, 1, 0, 1), (12, 1, 0, 1), (17, 1, 0, 1), (19, 1, 0, 1))
MARK_OF = {"lost at the galvanizer": 88, "read twice": 173, "other side": 174, "three legs": 266}
LAST_WELDED = 214  # the one to ask for: welded at the end of the last day

# What becomes of those that came in on the last afternoon, in the order of their receipt; 214 is the first.
LAST_BATCH: tuple[tuple[str, int], ...] = (
    ("waiting visual", 2),
    ("to weld", 10),
    ("to prepare", 6),
    ("to cut", 7),
    ("no up mark", 1),
    ("customer may move it", 1),
)
