"""A shop in which every page has something to show, with one person for each role and one who may do everything."""

EVERYBODY = "osei"
BY_ROLE = {
    "foreman": "kerr",
    "cutter": "lund",
    "fitter": "marsh",
    "field": "nash",
    "driver": "pike",
    "manager": "quinn",
    "tablet": "tablet1",
}


def every_page() -> None:
    """Every table filled, by the shop's own deeds."""
    from spools.actions.check_jig import MasterPosition, check_jig
    from spools.flow.roles import Role
    from tests.browser.seeds import PASSWORD, people_of
    from tests.factories.full_shop import FullShop
    from tests.factories.people import make_person
    from tests.factories.spools import make_spool

    first = make_spool("300")
    people_of(first.shop, ("Osei",))
    for role, name in BY_ROLE.items():
        person = make_person(first.shop, Role(role), name=name.title())
        person.set_password(PASSWORD)
        person.save()
    shop = FullShop(first)
    good = MasterPosition(name="long", length_off_mm=0.0, included_off_deg=0.0)
    check_jig(jig_id=first.reading.set_points.jig_id, positions=(good,), **shop.call())
    shop.one_of_each()
    shop.one_of_each()
