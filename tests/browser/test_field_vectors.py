"""The phone answers every vector as the geometry does: values to 1e-6 mm, every finding's code and words."""

import json
from pathlib import Path

from tests.browser.field_phone import BOOK
from tests.browser.signing_in import sign_in

VECTORS = Path(__file__).parents[1] / "vectors"
KINDS = ("lengths", "angles", "said", "checks", "jigs", "rooms", "seconds")
MODULES = ("lengths", "angles", "closes", "room", "compare")


def test_the_phone_answers_every_vector_as_the_geometry_does(phone, open_shop):
    shop = open_shop()
    sign_in(phone, shop, "ruiz", BOOK)
    vectors = {kind: json.loads((VECTORS / f"{kind}.json").read_text(encoding="utf-8")) for kind in KINDS}
    found = phone.evaluate(
        """async ([vectors, names, source]) => {
            const loaded = await Promise.all(names.map((name) => import(`/static/spools/field/${name}.js`)));
            const modules = Object.fromEntries(names.map((name, place) => [name, loaded[place]]));
            const { disagreements } = await source();
            return disagreements(vectors, modules);
        }""".replace("await source()", f"(() => {{ {as_plain_script()}; return {{ disagreements }}; }})()"),
        [vectors, MODULES, None],
    )
    assert sum(len(rows) for rows in vectors.values()) >= 500
    assert found == []


def as_plain_script() -> str:
    """The comparison without its exports: the page's content policy lets no script in from outside."""
    return (VECTORS / "compare.js").read_text(encoding="utf-8").replace("export ", "")
