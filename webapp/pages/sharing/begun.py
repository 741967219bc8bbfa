"""Work that is begun in a session of another build: asked about, and then the session's owner."""

from webapp.build.time.shared_sessions import SharedSession
from webapp.pages.words.sharing import asked_at_begin
from webapp.services.program import Services
from webapp.services.sharing import shared_hours


def asked_of_session(services: Services, slug: str) -> tuple[str, SharedSession | None]:
    """What is asked before work is begun now, and the session that it then takes.

    ("", None) where the session that is open is this build's, or nobody's.
    """
    with services.database.reading() as session:
        shared = shared_hours(services.plans, session, services.settings.now())
        found = shared.open_now() if shared is not None else None
        if shared is None or found is None or slug not in shared.sharing.slugs:
            return "", None
        owner = shared.owner(found)
    if owner is None or owner == slug:
        return "", None
    return asked_at_begin(found, shared.name(owner), shared.now), found
