"""A port that is not measured and not joined either is one open thing on every page."""

import re

from tests.pages.conftest import Shop
from tests.pages.test_two_windows import opened, saved
from webapp.plumbing.open_list import counted_once
from webapp.plumbing.plumbed import plumbed


def test_a_port_neither_measured_nor_joined_is_one_open_thing(shop: Shop) -> None:
    def things() -> tuple[int, int]:
        page = shop.page("plumbing/coolant")
        said = re.search(r"(\d+) things are open", page)
        assert said is not None
        listed = page.partition('class="rows open-list"')[2].partition("</ul>")[0]
        return int(said[1]), listed.count("<li")

    before = things()
    assert before[0] == before[1]
    assert saved(shop, opened(shop, "new-port?component=rad"), name="spare")[0] == 200
    answer = next(one for one in plumbed(shop.stored()).circuits if one.circuit.key == "coolant")
    whys = [one.why for one in answer.open if one.what == "rad.spare"]
    assert whys == ["not measured", "not joined"]  # as the command tells it
    assert [one.why for one in counted_once(answer.open) if one.what == "rad.spare"] == [
        "not joined"
    ]
    assert things() == (before[0] + 1, before[1] + 1)
    assert "spare (bead, not measured)" in shop.page("plumbing/coolant")
    # the bay counts as the circuit does
    total = sum(len(counted_once(one.open)) for one in plumbed(shop.stored()).circuits)
    assert f"{total} things" in shop.page("plumbing")
    # once it is joined to nothing but measured, it is the same one thing
    assert saved(shop, opened(shop, "port?key=rad.spare"), port_size="19")[0] == 200
    assert things() == (before[0] + 1, before[1] + 1)
