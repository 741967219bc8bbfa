"""Money: what has the build cost, and what is still to come?"""
