"""Letting go of the kept order in one window while another keeps an order anew."""

import html
from dataclasses import replace

from tests.benchmarks.forms_found import forms_in
from tests.pages.conftest import NOW, Shop
from tests.pages.test_two_windows import opened, saved, saving


def kept(shop: Shop, *first: str) -> None:
    """Keep an order of these tasks, as a window does that found it."""
    shop.become(replace(shop.stored(), kept_order=first, kept_on=NOW.date()))


def test_an_order_that_was_kept_meanwhile_is_not_let_go_of_unseen(shop: Shop) -> None:
    kept(shop, "rad_bracket", "loom_crimp")
    old = opened(shop, "order", "let-go-order")
    kept(shop, "loom_crimp", "rad_bracket")
    status, page = saved(shop, old)
    assert status == 422
    said = html.unescape(page)
    assert "Nothing has gone: it was changed elsewhere since you were asked." in said
    assert "Another order is kept now." in said
    assert shop.stored().kept_order == ("loom_crimp", "rad_bracket")
    status, _ = saved(shop, saving(forms_in(page), old.action))
    assert (status, shop.stored().kept_order) == (200, ())


def test_one_that_was_let_go_of_already_is_gone_and_a_bare_press_asks(shop: Shop) -> None:
    kept(shop, "rad_bracket", "loom_crimp")
    old = opened(shop, "order", "let-go-order")
    status, page = shop.post("let-go-order")
    assert status == 422
    assert "Nothing has gone yet." in page
    assert saved(shop, opened(shop, "order", "let-go-order"))[0] == 200
    assert saved(shop, old)[0] == 200
    assert shop.stored().kept_order == ()
