"""An estimate in three points, as it is typed and as it is reckoned with."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class ThreePoint:
    """Hours of a task: if all goes well, likely, if it fights you."""

    optimistic: float
    most_likely: float
    pessimistic: float

    @property
    def expected(self) -> float:
        """Mean of the PERT-beta distribution, (o + 4m + p) / 6, in hours."""
        return (self.optimistic + 4 * self.most_likely + self.pessimistic) / 6

    @classmethod
    def certain(cls, hours: float) -> "ThreePoint":
        """All three points equal."""
        return cls(optimistic=hours, most_likely=hours, pessimistic=hours)
