// What everything else stands on: the data, what is remembered, small helpers.

const byId = (id) => document.getElementById(id);
const readData = (root) => JSON.parse(root.getElementById("data").textContent);
const root = document.documentElement;

let data = readData(document);
let partsByKey = new Map();

// What the reader has chosen; kept while the page renews itself, and in the tab when it is loaded again.
const state = { sheet: "", list: "details", pane: "", chosen: "", hidden: [], views: {} };
const SHELF = `ceiling-page ${location.pathname}`;

function remember() {
  try {
    sessionStorage.setItem(SHELF, JSON.stringify(state));
  } catch {
    // A page from a file may have no storage; then it forgets.
  }
}

function recall() {
  try {
    Object.assign(state, JSON.parse(sessionStorage.getItem(SHELF) || "{}"));
  } catch {
    // as above
  }
}

// An element with attributes and content; text is never taken for markup.
function make(name, attributes = {}, ...content) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...content);
  return made;
}

function makeSvg(name, attributes = {}) {
  const made = document.createElementNS("http://www.w3.org/2000/svg", name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  return made;
}

const sheetOf = (key) => data.sheets.find((sheet) => sheet.key === key);
const svgOf = (key) => byId(`sheet-${key}`)?.querySelector("svg");
const calm = () => matchMedia("(prefers-reduced-motion: reduce)").matches;

// What the page says, in its own language; fields stand in braces.
const say = (name, fields = {}) => data.words[name].replace(/\{(\w+)\}/g, (whole, field) => fields[field] ?? whole);

// Told to who cannot see what changed.
function speak(text) {
  byId("spoken").textContent = text;
}

// --- from the room to the paper and back, as the sheet's window shows it; y of the paper runs down ---

function toPaper(window, [x, y]) {
  const [left, top, width, height] = window.box;
  return [
    left + width / 2 + (x - window.centre[0]) / window.scale,
    top + height / 2 - (y - window.centre[1]) / window.scale,
  ];
}

function toRoom(window, [x, y]) {
  const [left, top, width, height] = window.box;
  return [
    window.centre[0] + (x - left - width / 2) * window.scale,
    window.centre[1] - (y - top - height / 2) * window.scale,
  ];
}

const within = ([left, top, width, height], [x, y]) =>
  x >= left && x <= left + width && y >= top && y <= top + height;
