"""The frame around every page: its context, plans kept at hand, answers to refusals."""
