// What lies under a finger. Nothing in the drawing need be hit exactly: the nearest part that is meant is found from the
// room's own measures, so that a thin tee is as easy to tap as a panel.

const REACH = 14; // pixels

const inRing = (ring, [x, y]) => {
  let inside = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [[ax, ay], [bx, by]] = [ring[i], ring[j]];
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
  }
  return inside;
};

function offLine(line, [x, y]) {
  let least = Infinity;
  for (let i = 1; i < line.length; i++) {
    const [[ax, ay], [bx, by]] = [line[i - 1], line[i]];
    const [dx, dy] = [bx - ax, by - ay];
    const t = Math.min(Math.max(((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1), 0), 1);
    least = Math.min(least, Math.hypot(x - ax - t * dx, y - ay - t * dy));
  }
  return least;
}

// A part's place in the order of what is meant: points before lines before faces, nearer before further.
function nearness(part, at, reach) {
  if (part.at) {
    const off = Math.hypot(at[0] - part.at[0], at[1] - part.at[1]);
    if (off > Math.max(reach, part.radius || 0)) return Infinity;
    return part.radius ? 1 + off / 1e6 : off / 1e6;
  }
  if (part.line) {
    const off = offLine(part.line, at);
    if (off > reach * 0.8) return Infinity;
    if (!part.key.startsWith("wall:")) return 2 + off / 1e6;
    return (inRing(data.room.outline, at) ? 2.5 : 1.9) + off / 1e6; // inside, the angle on the wall is meant first
  }
  if (!inRing(part.ring, at) || (part.holes || []).some((hole) => inRing(hole, at))) return Infinity;
  return part.key.startsWith("service:") ? 1.5 : 3;
}

const layerOf = (role) => data.layers.find((layer) => layer.roles.includes(role));

// Parts are met only where the sheet draws them and their layer is not switched off.
function drawnHere(role, sheet) {
  const layer = layerOf(role);
  return sheet.roles.includes(role) && layer && !state.hidden.includes(layer.name);
}

function under(at) {
  const sheet = sheetOf(state.sheet);
  const paper = paperAt(at);
  const window = sheet?.windows.find((each) => within(each.box, paper));
  if (!window || !data.grid) return null;
  const place = toRoom(window, paper);
  const reach = Math.min((REACH * window.scale) / view.zoom, 0.2 * Math.min(...data.grid.module));
  let [best, least] = [null, Infinity];
  for (const part of data.parts) {
    if (!drawnHere(part.role, sheet)) continue;
    const near = nearness(part, place, reach);
    if (near < least) [best, least] = [part, near];
  }
  return best || wholeModule(place);
}

// A module that is neither cut nor taken by a service has no name of its own: it is found from the grid.
function wholeModule(place) {
  if (!inRing(data.room.outline, place) || data.room.holes.some((hole) => inRing(hole, place))) return null;
  const { origin, angle, module } = data.grid;
  const turn = (angle * Math.PI) / 180;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const [dx, dy] = [place[0] - origin[0], place[1] - origin[1]];
  const cell = [Math.floor((dx * cos + dy * sin) / module[0]), Math.floor((dy * cos - dx * sin) / module[1])];
  const ring = [[0, 0], [1, 0], [1, 1], [0, 1]].map(([i, j]) => {
    const [u, v] = [(cell[0] + i) * module[0], (cell[1] + j) * module[1]];
    return [origin[0] + u * cos - v * sin, origin[1] + u * sin + v * cos];
  });
  const taken = data.parts.some((part) => part.ring && inRing(part.ring, centreOf(ring)));
  if (taken || ring.some((corner) => !inRing(data.room.outline, inward(corner, ring)))) return null;
  return { key: `whole:${cell}`, ring, ...data.whole };
}

// A hair from the corner towards the middle, so that a corner that lies on a wall counts as inside.
const inward = (corner, ring) => {
  const middle = centreOf(ring);
  return [corner[0] + (middle[0] - corner[0]) * 0.01, corner[1] + (middle[1] - corner[1]) * 0.01];
};

// --- marks on the drawing ---

function marksOf(svg) {
  return svg.querySelector(".marks") || svg.appendChild(makeSvg("g", { class: "marks" }));
}

const chain = (window, points, closed) =>
  "M" + points.map((point) => toPaper(window, point).join(" ")).join("L") + (closed ? "Z" : "");

// The part as a mark in every window of a sheet that shows it.
function outlines(part, sheet, kind) {
  return sheet.windows.flatMap((window) => {
    if (part.at) {
      const [cx, cy] = toPaper(window, part.at);
      const r = Math.max((part.radius || 0) / window.scale, 7 / view.zoom);
      return within(window.box, [cx, cy]) ? [makeSvg("circle", { cx, cy, r, class: kind })] : [];
    }
    const d = part.line
      ? chain(window, part.line, false)
      : [part.ring, ...(part.holes || [])].map((ring) => chain(window, ring, true)).join("");
    return [makeSvg("path", { d, "fill-rule": "evenodd", class: part.line ? `open ${kind}` : kind })];
  });
}

function mark(kind, part) {
  for (const sheet of data.sheets) {
    const svg = svgOf(sheet.key);
    svg.querySelectorAll(`.marks .${kind}`).forEach((old) => old.remove());
    if (!part) continue;
    const marks = marksOf(svg);
    for (const outline of outlines(part, sheet, kind)) {
      if (kind === "chosen") {
        const halo = outline.cloneNode();
        halo.setAttribute("class", "open halo chosen");
        marks.append(halo);
      }
      marks.append(outline);
    }
  }
}

// Rings that spread from a place of the room.
function flash(place) {
  for (const sheet of data.sheets) {
    for (const window of sheet.windows) {
      const [cx, cy] = toPaper(window, place);
      if (!within(window.box, [cx, cy])) continue;
      const ring = makeSvg("circle", { cx, cy, r: 26 / view.zoom, class: "flash" });
      marksOf(svgOf(sheet.key)).append(ring);
      setTimeout(() => ring.remove(), calm() ? 4000 : 3400);
    }
  }
}

let met = "";

// The mouse rests on something: it is outlined, and a word says what it is.
function meet(at, target = null) {
  const found = at && !fingers.size ? under(at) : null;
  const word = found ? [found.title, found.facts[0]?.[1]].filter(Boolean).join(" · ") : titleOf(target);
  stage.classList.toggle("pointing", Boolean(word));
  const hint = byId("hint");
  hint.hidden = !word;
  if (word) {
    const box = stage.getBoundingClientRect();
    hint.textContent = word;
    const left = Math.min(at[0] - box.left + 14, box.width - hint.offsetWidth - 8);
    const below = at[1] - box.top + 18;
    hint.style.left = `${left}px`;
    hint.style.top = `${below + hint.offsetHeight > box.height ? below - 30 - hint.offsetHeight : below}px`;
  }
  if ((found?.key || "") === met) return;
  met = found?.key || "";
  mark("met", found);
}

const titleOf = (target) => target?.closest?.("#stage [data-title]")?.dataset.title || "";

function tap(at, target, touched) {
  const link = target?.closest?.("#stage [data-link]")?.dataset.link;
  if (link && sheetOf(link)) return showSheet(link);
  const found = under(at);
  if (found) return choose(found.key, found, touched);
  const title = titleOf(target);
  if (title) return chooseTitle(title, touched);
  choose("");
}
