// What was said at the bench while nobody answered: kept on this device and sent once somebody does.
// A wish of the same words, a stop of the same run and the hours of an evening are taken once,
// whatever was lost on the way.
// What the program asks about (hours that are hardly right, work left over) waits for its answer.
const STORE = "keyturn waiting";
const AGAIN_MS = 5000;
const KEPT = "form.wishline, form.stop, form.evening";
const waiting = () => JSON.parse(localStorage.getItem(STORE) ?? "[]");
const unsent = () => waiting().filter((one) => !one.asked);
const store = (lines) => localStorage.setItem(STORE, JSON.stringify(lines));

function tell(done = "") {
  const note = document.getElementById("waiting");
  if (!note) return;
  const lines = unsent(), asked = waiting().filter((one) => one.asked);
  note.classList.toggle("unsent", lines.length > 0);
  note.hidden = !lines.length && !asked.length && !done;
  note.textContent = lines.length
    ? `The program does not answer. Kept on this device and sent as soon as it does: ${lines.map((one) => one.said).join("; ")}.`
    : done;
  for (const line of asked) {
    const button = document.createElement("button");
    button.textContent = `Asked about: ${line.said}. See what is asked`;
    button.addEventListener("click", () => answer(line));
    note.append(" ", button);
  }
}

// Sent from the page, as the form would have been: what comes is the question, with what was typed.
function answer(line) {
  const form = document.createElement("form");
  form.method = "post";
  form.action = line.action;
  form.hidden = true;
  for (const [name, value] of new URLSearchParams(line.body)) {
    const field = document.createElement("input");
    field.type = "hidden";
    field.name = name;
    field.value = value;
    form.append(field);
  }
  document.body.append(form);
  store(waiting().filter((one) => one.body !== line.body));
  HTMLFormElement.prototype.submit.call(form);
}

function saidBy(form, fields) {
  if (form.matches(".wishline")) return `“${fields.get("wish")}”`;
  if (form.matches(".evening")) {
    const evening = form.closest("details").querySelector("summary").textContent.trim().replace(/\s+/g, " ").replace(/^\d+ of \d+ /, "");
    return `${fields.get("hours")} worked, ${evening}`;
  }
  const task = form.closest("section")?.querySelector("h1")?.textContent.trim() ?? "";
  return `${fields.get("worked")} worked on ${task}`;
}

document.addEventListener("htmx:error", (event) => {
  const { ctx, error } = event.detail;
  const form = ctx?.sourceElement?.closest?.(KEPT);
  if (ctx?.response || !(error instanceof TypeError)) return;
  tell(); // what was sent is no news any more
  if (!form) return;
  const button = ctx.sourceEvent?.submitter;
  const fields = new FormData(form);
  if (button?.name) fields.set(button.name, button.value);
  if (form.matches(".wishline")) {
    if (!fields.get("wish").trim()) return;
    fields.set("kept", "1");
  }
  if (form.matches(".evening") && !fields.get("hours").trim()) return;
  store([...waiting(), { action: form.action, said: saidBy(form, fields), body: new URLSearchParams(fields).toString() }]);
  form.reset();
  form.dispatchEvent(new Event("input", { bubbles: true }));
  const note = document.getElementById("unanswered");
  if (note) note.hidden = true;
  tell();
});

// The page is asked for again, for it shows what was before; not while something is typed in it.
function lookAgain(line) {
  const fields = "#page form[method=post] :is(input:not([type=hidden]), textarea)";
  if ([...document.querySelectorAll(fields)].some((e) => e.value !== e.defaultValue)) return;
  const bench = line.action.replace(/\/(stop|wish)$/, "");
  const here = new URL(bench).pathname === location.pathname ? bench : location.href;
  htmx.ajax("GET", here, { target: "#page", select: "#page", swap: "outerMorph" });
}

let isBusy = false;
async function sendAll() {
  if (isBusy || !unsent().length) return;
  isBusy = true;
  const told = [];
  let last = null;
  try {
    while (unsent().length) {
      const [line] = unsent();
      const reply = await fetch(line.action, {
        method: "POST",
        headers: { "Content-Type": "application/x-www-form-urlencoded" },
        body: line.body,
      });
      // 403: this device is not let in any more, and sends it once it is paired anew.
      if (reply.status >= 500 || reply.status === 403) break;
      const note = document.getElementById("unanswered");
      if (note) note.hidden = true; // somebody answers
      const rest = waiting().filter((one) => one.body !== line.body);
      if (reply.status === 422) {
        store([...rest, { ...line, asked: true }]);
        continue;
      }
      store(rest);
      last = line;
      told.push(reply.ok ? `Sent: ${line.said}.` : `Not taken, write it down anew: ${line.said}.`);
    }
  } catch (error) {
    if (!(error instanceof TypeError)) throw error; // nobody answers yet
  } finally {
    isBusy = false;
    tell(told.join(" "));
    if (last) lookAgain(last);
  }
}
addEventListener("online", sendAll);
setInterval(sendAll, AGAIN_MS);
tell();
sendAll();
