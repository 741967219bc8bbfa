"""A page once everything that it works out in the background is there."""

import time

import httpx


def settled(client: httpx.Client, address: str, *, seconds: float = 60) -> str:
    """Ask for a page until nothing of it is being worked out; what it says then.

    With a pause between: who asks without one takes the processor from what is waited for.
    """
    until = time.monotonic() + seconds
    while True:
        answer = client.get(address)
        assert answer.status_code == 200, answer.text
        if "being worked out" not in answer.text:
            return answer.text
        assert time.monotonic() < until, f"{address}: still being worked out after {seconds:g} s"
        time.sleep(0.05)
