// What was said at the bench while nobody answered: kept on this device and sent once somebody does.
// A wish of the same words and a stop of the same run are taken once, whatever was lost on the way.
const STORE = "keyturn waiting";
const AGAIN_MS = 5000;
const waiting = () => JSON.parse(localStorage.getItem(STORE) ?? "[]");
const store = (lines) => localStorage.setItem(STORE, JSON.stringify(lines));

function tell(done = "") {
  const note = document.getElementById("waiting");
  if (!note) return;
  const lines = waiting();
  note.hidden = !lines.length && !done;
  note.textContent = lines.length
    ? `The program does not answer. Kept on this device and sent as soon as it does: ${lines.map((one) => one.said).join("; ")}.`
    : done;
}

function saidBy(form, fields) {
  if (form.matches(".wishline")) return `“${fields.get("wish")}”`;
  const task = form.closest("section")?.querySelector("h1")?.textContent.trim() ?? "";
  return `${fields.get("worked")} worked on ${task}`;
}

document.addEventListener("htmx:error", (event) => {
  const { ctx, error } = event.detail;
  const form = ctx?.sourceElement?.closest?.("form.wishline, form.stop");
  if (!form || ctx.response || !(error instanceof TypeError)) return;
  const button = ctx.sourceEvent?.submitter;
  const fields = new FormData(form);
  if (button?.name) fields.set(button.name, button.value);
  if (form.matches(".wishline")) {
    if (!fields.get("wish").trim()) return;
    fields.set("kept", "1");
  }
  store([...waiting(), { action: form.action, said: saidBy(form, fields), body: new URLSearchParams(fields).toString() }]);
  form.reset();
  form.dispatchEvent(new Event("input", { bubbles: true }));
  const note = document.getElementById("unanswered");
  if (note) note.hidden = true;
  tell();
});

let isBusy = false;
async function sendAll() {
  if (isBusy || !waiting().length) return;
  isBusy = true;
  const told = [];
  try {
    while (waiting().length) {
      const [line] = waiting();
      const answer = await fetch(line.action, {
        method: "POST",
        headers: { "Content-Type": "application/x-www-form-urlencoded" },
        body: line.body,
      });
      if (answer.status >= 500) break;
      store(waiting().slice(1));
      told.push(answer.ok ? `Sent: ${line.said}.` : `Not taken, write it down anew: ${line.said}.`);
    }
  } catch (error) {
    if (!(error instanceof TypeError)) throw error; // nobody answers yet
  } finally {
    isBusy = false;
    tell(told.join(" "));
  }
}
addEventListener("online", sendAll);
setInterval(sendAll, AGAIN_MS);
tell();
sendAll();
