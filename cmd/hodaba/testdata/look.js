// What TestPagesInABrowser wants to know of a page: the fields of its view.
(async () => {
  "use strict";
  // Two frames: the charts are drawn in the first.
  for (let i = 0; i < 2; i++) await new Promise(requestAnimationFrame);

  const name = (e) => e.localName + (e.classList.length ? "." + e.classList[0] : "");
  const visible = (e) => e.checkVisibility({ visibilityProperty: true, opacityProperty: true });
  const all = (s) => [...document.querySelectorAll(s)];

  // What reaches beyond the window, and does not scroll in a box of its own.
  function wide() {
    const room = document.documentElement.clientWidth;
    if (document.documentElement.scrollWidth <= room) return [];
    const boxed = (e) => e.parentElement && (getComputedStyle(e.parentElement).overflowX !== "visible" || boxed(e.parentElement));
    return all("body *").filter((e) => e.getBoundingClientRect().right > room + 0.5 && !boxed(e)).map(name).slice(0, 5)
      .concat("the document has " + document.documentElement.scrollWidth + " px of " + room);
  }

  // Cells whose words run out over their neighbours; words for the ear alone
  // take no room.
  function spilled() {
    const found = new Set();
    for (const cell of all("td, th").filter(visible)) {
      const edge = cell.getBoundingClientRect().right + 1;
      const texts = document.createTreeWalker(cell, NodeFilter.SHOW_TEXT);
      while (texts.nextNode()) {
        const words = document.createRange();
        words.selectNodeContents(texts.currentNode);
        if (!texts.currentNode.parentElement.closest(".heard") && words.getBoundingClientRect().right > edge) found.add(cell.textContent.trim());
      }
    }
    return [...found];
  }

  // Relative luminance and contrast as W3C, Web Content Accessibility
  // Guidelines 2.2, defines them.
  function rgba(text) {
    const n = text.match(/[\d.]+/g).map(Number);
    return { r: n[0], g: n[1], b: n[2], a: n.length > 3 ? n[3] : 1 };
  }
  function luminance(c) {
    const part = (v) => ((v /= 255) <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
    return 0.2126 * part(c.r) + 0.7152 * part(c.g) + 0.0722 * part(c.b);
  }
  function contrast(a, b) {
    const [low, high] = [luminance(a), luminance(b)].sort((x, y) => x - y);
    return (high + 0.05) / (low + 0.05);
  }
  // The canvas itself has no colour of its own to ask for: a system colour
  // tells it.
  function canvas() {
    const probe = document.createElement("span");
    probe.style.backgroundColor = "Canvas";
    document.body.append(probe);
    const c = rgba(getComputedStyle(probe).backgroundColor);
    probe.remove();
    return c;
  }
  const bare = canvas();
  function ground(e) {
    for (; e; e = e.parentElement) {
      const c = rgba(getComputedStyle(e).backgroundColor);
      if (c.a === 1) return c;
    }
    return bare;
  }

  // Text on plain ground; what stands on a drawing is left out. 4.5 : 1 is
  // level AA of the guidelines for text of ordinary size (1.4.3).
  function pale() {
    const enough = 4.5, found = new Set();
    for (const e of all("body *")) {
      const says = [...e.childNodes].some((n) => n.nodeType === Node.TEXT_NODE && n.data.trim());
      if (!says || !visible(e) || e.closest("svg, .months, .chart, script")) continue;
      const c = contrast(rgba(getComputedStyle(e).color), ground(e));
      if (c < enough) found.add(name(e) + ", contrast " + c.toFixed(1));
    }
    return [...found];
  }

  // A chart is drawn where it shows lines and words of some extent.
  function drawn(figure) {
    const svg = figure.querySelector(".chart svg");
    if (!svg || !visible(svg)) return false;
    const box = svg.getBoundingClientRect();
    return box.width > 100 && box.height > 100 && box.right <= innerWidth + 0.5 &&
      svg.querySelectorAll("path").length > 3 && svg.querySelectorAll("text").length > 2;
  }

  const figures = all("figure.drawing");
  return {
    Title: document.title,
    Wide: wide(),
    Drawings: figures.length,
    Drawn: figures.filter(drawn).length,
    Bare: figures.filter((f) => !f.querySelector("table")).length,
    Shown: figures.filter((f) => f.querySelector("table") && visible(f.querySelector("table"))).length,
    Tables: all("table").length,
    Pale: pale(),
    Spilled: spilled(),
    Light: luminance(ground(document.body)) > luminance(rgba(getComputedStyle(document.body).color)),
  };
})()
