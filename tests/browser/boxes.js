// What is wrong with the boxes of the page as it stands: [what, where, how much] for each.
({ targetPx, letterPx, scale }) => {
  const found = [];
  const told = (e) => {
    const id = e.id ? `#${e.id}` : "";
    return `${e.tagName.toLowerCase()}${id}.${[...e.classList].join(".")} “${(e.textContent || e.name || "").trim().slice(0, 40)}”`;
  };
  const root = document.documentElement;
  if (root.scrollWidth > root.clientWidth) found.push(["page too wide", "", root.scrollWidth]);
  const seen = (e) => e.checkVisibility({ visibilityProperty: true, contentVisibilityAuto: true })
    && !e.closest(".hush, svg") && e.getBoundingClientRect().width > 1;
  const inScroller = (e) => e.closest(".scroll");
  for (const e of document.querySelectorAll("#page *")) {
    if (!seen(e) || inScroller(e) || e.matches(".skip")) continue;
    const box = e.getBoundingClientRect();
    const ownText = [...e.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim());
    const holdsText = ownText || e.matches("input[inputmode], input.date");
    if (holdsText && e.clientWidth && e.scrollWidth > e.clientWidth + 1) found.push(["cut off", told(e), e.scrollWidth - e.clientWidth]);
    if (holdsText && (box.right > root.clientWidth + 0.5 || box.left < -0.5)) found.push(["beside the page", told(e), box.right]);
  }
  // A picture across what it stands in shrinks with the screen; `scale` is how much.
  const isAcross = (svg) => {
    const around = svg.parentElement, style = getComputedStyle(around);
    const room = around.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight);
    return !inScroller(svg) && Math.abs(svg.getBoundingClientRect().width - room) <= 1;
  };
  const least = new Map();
  const leastPx = (svg) => {
    if (!least.has(svg)) least.set(svg, isAcross(svg) ? letterPx * scale : letterPx);
    return least.get(svg);
  };
  for (const e of document.querySelectorAll("#page svg text, #page svg tspan")) {
    if (![...e.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim()) || !e.checkVisibility()) continue;
    const to = e.getScreenCTM(), px = parseFloat(getComputedStyle(e).fontSize) * Math.hypot(to.b, to.a);
    if (px < leastPx(e.ownerSVGElement) - 0.05) found.push(["letters too small", told(e), Math.round(px * 10) / 10]);
  }
  const pressable = [...document.querySelectorAll("a[href], button, input:not([type=hidden]), select, textarea, summary")]
    .filter((e) => seen(e) && !e.matches(".skip"));
  const sentence = (e) => e.matches("a:not(.button)") && e.parentElement.matches("p, li, td, dd, span, caption")
    && [...e.parentElement.childNodes].some((n) => n !== e && n.nodeType === 3 && n.textContent.trim().length > 1);
  const at = scrollY;
  for (const e of pressable) {
    const target = e.matches("input[type=checkbox], input[type=radio]") ? e.closest("label") ?? e : e;
    const box = target.getBoundingClientRect();
    const scroller = e.closest("svg") || inScroller(e);
    if (!sentence(e) && !scroller && box.height < targetPx - 0.5) found.push(["too low", told(e), box.height]);
    if (inScroller(e)) continue;
    target.scrollIntoView({ block: "nearest", behavior: "instant" });
    const now = [...target.getClientRects()][0] ?? target.getBoundingClientRect();
    const x = now.left + now.width / 2, y = now.top + now.height / 2;
    const top = document.elementFromPoint(x, y);
    if (!top || !(target.contains(top) || top.contains(target))) found.push(["covered", told(e), top ? told(top) : "nothing"]);
    else if (top !== target && !target.contains(top) && top.closest("a, button, label, summary") && top.closest("a, button, label, summary") !== target)
      found.push(["covered", told(e), told(top)]);
  }
  scrollTo(0, at);
  return found;
}
