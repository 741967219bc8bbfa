// Says so when an answer does not come, and moves the focus to what is wrong in a form.
document.addEventListener("htmx:error", () => {
  const note = document.getElementById("unanswered");
  if (note) note.hidden = false;
});
document.addEventListener("htmx:after:swap", () => {
  const note = document.getElementById("unanswered");
  if (note) note.hidden = true;
  const wrong = document.querySelector('#main [aria-invalid="true"]');
  if (wrong && !document.activeElement?.closest("form")) wrong.focus();
});
