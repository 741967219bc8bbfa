// What is typed and not saved: it stays over a reload, is asked about before it is left, never turns
// up in the form of another thing, and leaves the form once it is stored.
const LEAVE = "What you typed here is not saved. Leave it?";
const forms = () => [...document.querySelectorAll("#page form[method=post]")];
const fieldsOf = (form) => [...form.elements].filter(
  (e) => e.name && !["hidden", "submit", "button", "file", "password"].includes(e.type) && e.tagName !== "FIELDSET");
const isTyped = (e) => {
  if (e.type === "checkbox" || e.type === "radio") return e.checked !== e.defaultChecked;
  if (e.tagName !== "SELECT") return e.value !== e.defaultValue;
  const opened = [...e.options].findIndex((one) => one.defaultSelected);
  return e.selectedIndex !== Math.max(0, opened);
};
const said = (e) => (e.type === "checkbox" || e.type === "radio" ? e.checked : e.value);
const typedIn = (form) => fieldsOf(form).filter(isTyped);
const unsaved = () => forms().filter((form) => typedIn(form).length > 0);
const all = (form) => JSON.stringify(fieldsOf(form).map((e) => [e.name, said(e)]));
const placeOf = (form) => `typed ${location.pathname} ${new URL(form.action).pathname}${new URL(form.action).search}`;

function keep(form) {
  const typed = typedIn(form).map((e) => [e.name, e.value, said(e)]);
  const shown = form.elements.namedItem("shown")?.value;
  if (typed.length) sessionStorage.setItem(placeOf(form), JSON.stringify({ typed, shown }));
  else sessionStorage.removeItem(placeOf(form));
}

// Nothing that was typed, and nothing that is to be mended, stays folded away.
function unfold(field) {
  for (let fold = field.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
}

function restore() {
  for (const form of forms()) {
    const kept = sessionStorage.getItem(placeOf(form));
    if (!kept || typedIn(form).length) continue;
    const { typed, shown } = JSON.parse(kept);
    for (const [name, value, was] of typed) {
      const field = fieldsOf(form).find((e) => e.name === name && (e.type !== "radio" || e.value === value));
      if (field === undefined) continue;
      if (typeof was === "boolean") field.checked = was;
      else field.value = was;
      unfold(field);
    }
    // With what it was shown with then, so that a change made elsewhere meanwhile is asked about.
    const carried = form.elements.namedItem("shown");
    if (carried && shown !== undefined) carried.value = shown;
  }
}

function forget(form) {
  sessionStorage.removeItem(placeOf(form));
}

document.addEventListener("input", (event) => {
  const form = event.target.form;
  if (form?.matches("#page form[method=post]")) keep(form);
});

let isSending = false;
addEventListener("submit", () => { isSending = true; setTimeout(() => { isSending = false; }); });
addEventListener("beforeunload", (event) => {
  if (!isSending && unsaved().length) event.preventDefault();
});

const sent = new WeakMap();
document.addEventListener("htmx:before:request", (event) => {
  const source = event.detail.ctx.sourceElement;
  if (source.matches("a[href]") && unsaved().length) {
    if (!confirm(LEAVE)) { event.preventDefault(); return; }
    for (const form of unsaved()) { forget(form); form.reset(); }
  }
  const form = source.closest("form");
  if (form) sent.set(form, { text: all(form), place: placeOf(form) });
});

const isPage = (ctx) => ctx.target?.id === "page" && ctx.response;
const isAnother = (ctx) => ctx.response.status < 400
  && new URL(ctx.response.raw.url).pathname !== location.pathname;
let leads = false;
document.addEventListener("htmx:before:swap", (event) => {
  const ctx = event.detail.ctx;
  if (!isPage(ctx)) return;
  leads = isAnother(ctx);
  // A field of the next page may take the place of this one: what is being typed belongs here.
  if (leads && document.activeElement?.matches("input, textarea, select")) document.activeElement.blur();
  const form = ctx.sourceElement.closest?.("form");
  const was = form && sent.get(form);
  if (!was || ctx.response.status >= 400) return;
  sessionStorage.removeItem(was.place);
  if (all(form) === was.text) form.reset();
  else if (leads) form.reset();
});
document.addEventListener("htmx:after:swap", (event) => {
  const ctx = event.detail.ctx;
  if (!isPage(ctx)) return;
  if (leads) for (const form of forms()) form.reset();
  setTimeout(restore);
});
document.addEventListener("DOMContentLoaded", restore);
if (document.readyState !== "loading") restore();

document.addEventListener("click", (event) => {
  const link = event.target.closest?.('a[href^="#"]');
  const field = link && document.getElementById(decodeURIComponent(link.hash.slice(1)));
  if (field?.matches("input, select, textarea")) setTimeout(() => { unfold(field); field.focus(); });
});
