// What axe-core finds at this size and in this scheme of colours: { wrong: [rule, where] for each,
// sound: the pairs of a text and its ground in which nothing was wrong, across: how wide the page is
// in px }; null where axe-core is not in the page yet.
// Colours take most of its time, and hang on the style of a text and on what lies behind it alone:
// so it looks at two texts of each such pair, wherever they stand, and at none of a known pair.
async ({ rules, colours, known }) => {
  if (typeof axe === "undefined") return null;
  const told = ({ violations }) => violations.map((one) => [one.id, one.nodes[0].html.slice(0, 90)]);
  const options = { resultTypes: ["violations"], preload: false, iframes: false };
  const wrong = [];
  if (rules) wrong.push(...told(await axe.run(document, { ...options, rules: { "color-contrast": { enabled: false } } })));
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
  const kinds = new Map();
  const looks = (e, pseudo) => {
    const style = getComputedStyle(e, pseudo);
    return [style.color, style.fontSize, style.fontWeight, style.textShadow, e.disabled === true].join(" ");
  };
  for (const e of colours ? document.querySelectorAll("body, body *") : []) {
    const hasText = [...e.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim())
      || e.matches("input:not([type=hidden]), select, textarea");
    if (!hasText || !shown(e) || e.closest("svg")) continue;
    const kind = `${looks(e)} ${e.placeholder ? looks(e, "::placeholder") : ""} on ${ground(e)}`;
    const found = kinds.get(kind) ?? [];
    if (!sound.has(kind) && found.length < SAME) kinds.set(kind, [...found, e]);
  }
  const texts = [...kinds.values()].flat();
  const across = () => document.documentElement.scrollWidth;
  if (!texts.length) return { wrong, sound: [], across: across() };
  const colourless = told(await axe.run({ include: texts }, { ...options, runOnly: ["color-contrast"] }));
  return { wrong: [...wrong, ...colourless], sound: colourless.length ? [] : [...kinds.keys()], across: across() };
}
