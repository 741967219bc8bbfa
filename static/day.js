// The day: keeps the screen on where the browser can and says so; Enter presses nothing while it
// is cranked or runs, since a thumb or a sleeve on a key is no decision.
let lock = null;
async function keepAwake() {
  const day = document.getElementById("day");
  const note = document.getElementById("awake");
  const wanted = day && (day.hasAttribute("data-awake") || note);
  if (!wanted) {
    if (lock) { const old = lock; lock = null; await old.release().catch(() => {}); }
    return;
  }
  if (!navigator.wakeLock || document.hidden) return;
  try {
    if (!lock || lock.released) lock = await navigator.wakeLock.request("screen");
    if (note) note.textContent = "The screen stays on while this page is open.";
  } catch { /* the sentence that it can not stays */ }
}
document.addEventListener("visibilitychange", keepAwake);
document.addEventListener("htmx:after:swap", keepAwake);
keepAwake();

document.addEventListener("keydown", (event) => {
  if (event.key === "Enter" && document.querySelector(".day.live")) event.preventDefault();
}, true);
