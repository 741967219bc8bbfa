"""What calendars follow: the feed of the builds, and the page of its addresses."""
