"""Wishes: what does this idea cost? And the scope ledger: what was added since the baseline."""
