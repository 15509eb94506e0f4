// Looking at a sheet: what part of the paper is seen. Finger, mouse, wheel and keys all end in `look`.

const stage = byId("stage");
const NEAREST = 60; // pixels for a millimetre of paper

// The view of the sheet on the stage: the paper's point in the middle, and pixels for each of its millimetres.
let view = { x: 0, y: 0, zoom: 1 };

const BAND = 60; // pixels below, where the buttons are

function fitted([left, top, width, height], margin = 0.97) {
  const free = Math.max(stage.clientHeight - BAND, 0.6 * stage.clientHeight);
  const zoom = Math.min(stage.clientWidth / width, free / height) * margin || 1;
  return { x: left + width / 2, y: top + height / 2 + (stage.clientHeight - free) / 2 / zoom, zoom };
}

const wholeSheet = (sheet) => fitted([0, 0, ...sheet.paper]);

function boxAround(points) {
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  const [left, top] = [Math.min(...xs), Math.min(...ys)];
  return [left, top, Math.max(...xs) - left, Math.max(...ys) - top];
}

// The room as the first window of the sheet shows it; the whole sheet where none does.
function wholeRoom(sheet) {
  const window = sheet.windows[0];
  if (!window || !data.room) return wholeSheet(sheet);
  const [left, top, width, height] = boxAround(data.room.outline.map((point) => toPaper(window, point)));
  const [seenLeft, seenTop] = [Math.max(left, window.box[0]), Math.max(top, window.box[1])];
  const right = Math.min(left + width, window.box[0] + window.box[2]);
  const bottom = Math.min(top + height, window.box[1] + window.box[3]);
  return fitted([seenLeft, seenTop, Math.max(right - seenLeft, 1), Math.max(bottom - seenTop, 1)], 0.88);
}

const resting = (sheet) => (stage.clientWidth < 640 ? wholeRoom(sheet) : wholeSheet(sheet));

function look(wanted, kept = true) {
  const sheet = sheetOf(state.sheet);
  const svg = svgOf(state.sheet);
  if (!sheet || !svg) return;
  const least = wholeSheet(sheet).zoom * 0.5;
  const zoom = Math.min(Math.max(wanted.zoom, least), NEAREST);
  const x = Math.min(Math.max(wanted.x, 0), sheet.paper[0]);
  const y = Math.min(Math.max(wanted.y, 0), sheet.paper[1] + BAND / zoom);
  view = { x, y, zoom };
  const [width, height] = [stage.clientWidth / zoom, stage.clientHeight / zoom];
  svg.setAttribute("viewBox", `${x - width / 2} ${y - height / 2} ${width} ${height}`);
  if (kept) {
    state.views[state.sheet] = view;
    remember();
  }
}

// Show again what was looked at; a sheet that nobody moved fits the stage.
function lookAgain() {
  const sheet = sheetOf(state.sheet);
  if (!sheet) return;
  const kept = state.views[state.sheet];
  look(kept || resting(sheet), Boolean(kept));
}

function lookAfresh(how) {
  delete state.views[state.sheet];
  const sheet = sheetOf(state.sheet);
  if (sheet) look(how(sheet), how !== resting);
}

// Zoom so that the point under the finger stays there; without a point, the middle.
function zoomBy(factor, at = null) {
  const before = view.zoom;
  const zoom = Math.min(before * factor, NEAREST);
  const [dx, dy] = at ? fromMiddle(at) : [0, 0];
  look({ x: view.x + dx / before - dx / zoom, y: view.y + dy / before - dy / zoom, zoom });
}

const moveBy = (dx, dy) => look({ x: view.x - dx / view.zoom, y: view.y - dy / view.zoom, zoom: view.zoom });

function fromMiddle([x, y]) {
  const box = stage.getBoundingClientRect();
  return [x - box.left - box.width / 2, y - box.top - box.height / 2];
}

function paperAt(at) {
  const [dx, dy] = fromMiddle(at);
  return [view.x + dx / view.zoom, view.y + dy / view.zoom];
}

// --- fingers and mouse ---

const fingers = new Map();
let moved = 0;

const centreOf = (points) => [
  points.reduce((sum, [x]) => sum + x, 0) / points.length,
  points.reduce((sum, [, y]) => sum + y, 0) / points.length,
];
const spreadOf = ([a, b]) => Math.hypot(a[0] - b[0], a[1] - b[1]);

stage.addEventListener("pointerdown", (event) => {
  if (event.button) return;
  if (!fingers.size) moved = 0;
  fingers.set(event.pointerId, [event.clientX, event.clientY]);
  if (fingers.size > 1) moved = Infinity;
  stage.setPointerCapture(event.pointerId);
});

stage.addEventListener("pointermove", (event) => {
  if (!fingers.has(event.pointerId)) {
    if (event.pointerType === "mouse") meet([event.clientX, event.clientY], event.target);
    return;
  }
  const before = [...fingers.values()].slice(0, 2);
  fingers.set(event.pointerId, [event.clientX, event.clientY]);
  const after = [...fingers.values()].slice(0, 2);
  const [from, to] = [centreOf(before), centreOf(after)];
  moved += Math.hypot(to[0] - from[0], to[1] - from[1]);
  if (moved < 6) return;
  meet(null);
  stage.classList.add("dragged");
  moveBy(to[0] - from[0], to[1] - from[1]);
  if (after.length === 2 && spreadOf(before) > 10) zoomBy(spreadOf(after) / spreadOf(before), to);
});

let lastTap = { time: -Infinity, at: [0, 0] };

function lift(event) {
  if (!fingers.delete(event.pointerId) || fingers.size) return;
  stage.classList.remove("dragged");
  if (event.type !== "pointerup" || moved >= 6) return;
  const at = [event.clientX, event.clientY];
  const again = event.timeStamp - lastTap.time < 350 && spreadOf([at, lastTap.at]) < 30;
  lastTap = { time: again ? -Infinity : event.timeStamp, at };
  if (again) zoomBy(2, at);
  else tap(at, document.elementFromPoint(...at), event.pointerType === "touch");
}

stage.addEventListener("pointerup", lift);
stage.addEventListener("pointercancel", lift);
stage.addEventListener("pointerleave", () => meet(null));
stage.addEventListener(
  "wheel",
  (event) => {
    event.preventDefault();
    const notch = event.deltaMode === 1 ? 16 : 1;
    if (event.shiftKey) moveBy(-event.deltaY * notch, 0);
    else zoomBy(Math.exp(-event.deltaY * notch * (event.ctrlKey ? 0.01 : 0.0022)), [event.clientX, event.clientY]);
  },
  { passive: false },
);

// --- keys: on the drawing, and wherever no list or tab wants them ---

const STEP = 80;
const KEYS = {
  "+": () => zoomBy(1.4),
  "=": () => zoomBy(1.4),
  "-": () => zoomBy(1 / 1.4),
  "_": () => zoomBy(1 / 1.4),
  "0": () => lookAfresh(wholeSheet),
  "1": () => lookAfresh(wholeRoom),
  ArrowLeft: () => moveBy(STEP, 0),
  ArrowRight: () => moveBy(-STEP, 0),
  ArrowUp: () => moveBy(0, STEP),
  ArrowDown: () => moveBy(0, -STEP),
};

document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented) return;
  if (event.key === "Escape") return void choose("");
  const free = [document.body, stage].includes(document.activeElement);
  const action = KEYS[event.key];
  if (!action || (event.key.startsWith("Arrow") && !free)) return;
  event.preventDefault();
  action();
});

byId("zoom-closer").addEventListener("click", () => zoomBy(1.5));
byId("zoom-further").addEventListener("click", () => zoomBy(1 / 1.5));
byId("zoom-whole").addEventListener("click", () => lookAfresh(wholeSheet));
byId("zoom-room").addEventListener("click", () => lookAfresh(wholeRoom));
new ResizeObserver(() => lookAgain()).observe(stage);

// Each sheet is printed on a page of its own size (CSS Paged Media, named pages), whatever is seen on the screen. The
// rules are made here since they differ with the sheets, and the policy of the page knows one style only.
let pageRules = 0;

function setPages() {
  const style = document.styleSheets[0];
  for (; pageRules; pageRules--) style.deleteRule(style.cssRules.length - 1);
  data.sheets.forEach(({ key, paper: [width, height] }, number) => {
    style.insertRule(`@page sheet-${number} { size: ${width}mm ${height}mm; margin: 0; }`, style.cssRules.length);
    style.insertRule(`@media print { #sheet-${key} { page: sheet-${number}; } }`, style.cssRules.length);
    pageRules += 2;
  });
}

addEventListener("beforeprint", () => {
  for (const sheet of data.sheets) svgOf(sheet.key).setAttribute("viewBox", `0 0 ${sheet.paper.join(" ")}`);
});
addEventListener("afterprint", lookAgain);
