"""The scope ledger: which of the build is the first plan, and which was added."""
