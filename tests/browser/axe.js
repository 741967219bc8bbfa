// What axe-core finds at this size and in this scheme of colours: { wrong: [rule, where] for each,
// sound: the pairs of a text and its ground in which nothing was wrong, told: whether the colours of
// the other scheme are known at this size too, across: how wide the page is in px }; null where
// axe-core is not in the page yet.
// Colours take most of its time, and hang on the style of a text and on what lies behind it alone:
// so it looks at two texts of each such pair, wherever they stand, and at none of a known pair.
async ({ rules, off, colours, known }) => {
  if (typeof axe === "undefined") return null;
  const named = ({ violations }) => violations.flatMap((one) => one.nodes.map((node) => [one.id, node.html.slice(0, 90)]));
  const options = { resultTypes: ["violations"], preload: false, iframes: false };
  const none = Object.fromEntries(["color-contrast", ...off].map((id) => [id, { enabled: false }]));
  const wrong = rules ? named(await axe.run(document, { ...options, rules: none })) : [];
  // From here on nothing is waited for until axe-core has the texts: a page may be filled anew at any moment.
  const sound = new Set(known);
  const SAME = 2;
  const shown = (e) => e.checkVisibility({ visibilityProperty: true }) && e.getBoundingClientRect().width > 1;
  const grounds = new Map([[null, ""]]);
  const ground = (e) => {
    if (grounds.has(e)) return grounds.get(e);
    const style = getComputedStyle(e);
    const layers = [style.opacity === "1" ? "" : style.opacity, style.backgroundImage === "none" ? "" : style.backgroundImage];
    if (style.backgroundColor !== "rgba(0, 0, 0, 0)") layers.push(style.backgroundColor);
    if (!/^rgb\(/.test(style.backgroundColor)) layers.push(ground(e.parentElement));
    grounds.set(e, layers.join(" "));
    return grounds.get(e);
  };
  // Of the size of letters axe-core asks whether they are large (WCAG 2.2, 1.4.3: from 18 pt, bold
  // from 14 pt; it rounds up to a 96th part as here), and how far a shadow reaches in them.
  const isLarge = (style) =>
    Math.ceil(parseFloat(style.fontSize) * 72) / 96 >= (parseInt(style.fontWeight, 10) >= 700 ? 14 : 18);
  const looks = (e, pseudo) => {
    const style = getComputedStyle(e, pseudo);
    const shadow = style.textShadow === "none" ? "" : `${style.textShadow} ${style.fontSize}`;
    return { colour: `${style.color} ${shadow} ${e.disabled === true}`, large: isLarge(style) };
  };
  const kindOf = (e) => {
    const text = looks(e), hint = e.placeholder ? looks(e, "::placeholder") : { colour: "", large: "" };
    return { colours: `${text.colour} ${hint.colour} on ${ground(e)}`, large: `${text.large} ${hint.large}` };
  };
  // The colours that a text had in each scheme when it was last looked at, at whatever size.
  const seen = (window.coloursSeen ??= { light: new WeakMap(), dark: new WeakMap() });
  const dark = matchMedia("(prefers-color-scheme: dark)").matches;
  const here = seen[dark ? "dark" : "light"], other = seen[dark ? "light" : "dark"];
  // Where a text has the colours that it had at the other size, nothing in them hangs on the size;
  // then it has those that it had there in the other scheme too.
  const isTold = (e, { colours: now, large }, was) =>
    was === now && other.has(e) && sound.has(`${other.get(e)} ${large}`);
  const kinds = new Map();
  let told = true;
  for (const e of colours ? document.querySelectorAll("body, body *") : []) {
    const hasText = [...e.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim())
      || e.matches("input:not([type=hidden]), select, textarea");
    if (!hasText || e.closest("svg")) continue;
    const looked = kindOf(e), was = here.get(e);
    here.set(e, looked.colours);
    if (!shown(e)) continue;
    told &&= isTold(e, looked, was);
    const kind = `${looked.colours} ${looked.large}`;
    const found = kinds.get(kind) ?? [];
    if (!sound.has(kind) && found.length < SAME) kinds.set(kind, [...found, e]);
  }
  const texts = [...kinds.values()].flat();
  const across = () => document.documentElement.scrollWidth;
  if (!texts.length) return { wrong, sound: [], told, across: across() };
  const colourless = named(await axe.run({ include: texts }, { ...options, runOnly: ["color-contrast"] }));
  return { wrong: [...wrong, ...colourless], sound: colourless.length ? [] : [...kinds.keys()], told, across: across() };
}
