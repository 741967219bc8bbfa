// The table of tasks from the keyboard: Enter goes to the row below, ticks alone send nothing.
const rowOf = (element) => element.closest?.("table.all-tasks tbody tr");
document.addEventListener("change", (event) => {
  if (event.target.matches?.("[data-pick]")) event.stopImmediatePropagation();
}, true);
document.addEventListener("keydown", (event) => {
  const field = event.target;
  if (event.key !== "Enter" || event.isComposing || !field.matches?.("input:not([type=checkbox])")) return;
  const row = rowOf(field);
  if (!row || row.classList.contains("new")) return;
  const stem = field.name.replace(/-\d+$/, "");
  let next = row.nextElementSibling;
  const wanted = (tr) => [...tr.querySelectorAll("input")].find(
    (each) => each.name.replace(/-\d+$/, "") === stem && each.checkVisibility());
  while (next && !wanted(next)) next = next.nextElementSibling;
  event.preventDefault();
  if (next) {
    wanted(next).focus();
    wanted(next).select();
  } else {
    field.blur();
    field.focus();
  }
});
document.addEventListener("htmx:after:swap", () => {
  for (const row of document.querySelectorAll("table.all-tasks tbody tr")) {
    const wrong = (row.querySelector("[data-wrong]")?.dataset.wrong ?? "").split(" ");
    for (const field of row.querySelectorAll("input[aria-describedby]")) {
      if (wrong.includes(field.name)) {
        field.setAttribute("aria-invalid", "true");
        const range = row.querySelector("details");
        if (range && !field.name.startsWith("subsystem")) range.open = true;
      }
      else field.removeAttribute("aria-invalid");
    }
  }
  // What is asked of a row stands at its head: the field that it is about may be a screen below.
  const here = rowOf(document.activeElement)?.querySelector("[data-wrong]");
  here?.scrollIntoView({ block: "nearest" });
  const begin = document.querySelector("[data-begin]");
  if (begin) {
    begin.removeAttribute("data-begin");
    begin.focus();
  }
});
