// What is known of the chosen part, and going to a place in the drawing.

let chosenPart = null;

function choose(key, part = null, touched = false) {
  chosenPart = key ? part || partsByKey.get(key) || null : null;
  state.chosen = chosenPart ? key : "";
  mark("chosen", chosenPart);
  document.querySelectorAll("[data-part]").forEach((button) => {
    button.setAttribute("aria-pressed", String(button.dataset.part === state.chosen));
  });
  showDetails(chosenPart);
  if (chosenPart) {
    showList("details");
    if (touched) keepInSight(chosenPart);
    speak([chosenPart.title, ...chosenPart.facts.map((fact) => fact.join(" "))].join(", "));
  }
  remember();
}

// A drawn piece that is not in the ceiling, such as one on a bar: its title says all there is.
function chooseTitle(title, touched) {
  const named = data.parts.find((part) => title.split(/[\s,]+/).includes(part.key.split(":")[1]));
  if (named) return choose(named.key, named, touched);
  choose("");
  showDetails({ title, facts: [] });
  showList("details");
}

function showDetails(part) {
  const place = byId("chosen");
  place.hidden = !part;
  byId("resting")?.toggleAttribute("hidden", Boolean(part));
  place.replaceChildren();
  if (!part) return;
  const close = make("button", { type: "button", "aria-label": say("let go") }, "×");
  close.addEventListener("click", () => choose(""));
  const [first, ...others] = part.facts;
  const head = make("div", {}, make("h3", {}, part.title));
  if (first) head.append(make("p", { class: "big" }, part.big || first[1]));
  place.append(make("header", {}, head, close));
  const facts = others.flatMap(([term, said]) => [make("dt", {}, term), make("dd", {}, said)]);
  if (facts.length) place.append(make("dl", {}, ...facts));
  if (part.ring || part.line || part.at) {
    const show = make("button", { type: "button", class: "show" }, say("show"));
    show.addEventListener("click", () => goTo(part));
    place.append(show);
  }
  const steps = stepsOf(part);
  if (part.why && (!steps.length || root.lang !== "en")) place.append(make("p", { class: "why" }, part.why));
  if (steps.length) place.append(make("h4", {}, say("why")), make("ol", { class: "steps", lang: "en" }, ...steps));
}

// How a part came to be as it is, step by step, each with its rule; in English, whatever the page speaks.
function stepsOf(part) {
  const { rules, steps, rows } = data.reasons || {};
  return (rows?.[part.reason] || []).map((number) => {
    const [text, rule] = steps[number];
    const row = make("li", text.startsWith("  ") ? { class: "inner" } : {}, text.trim());
    if (rule >= 0) row.append(make("small", {}, rules[rule]));
    return row;
  });
}

const pointsOf = (part) => part.ring || part.line || [part.at];

// The sheet that shows a part best: the one that is open, else the first that draws it.
function sheetShowing(role, points) {
  const middle = centreOf(points);
  const shows = (sheet) =>
    (!role || sheet.roles.includes(role)) && sheet.windows.some((window) => within(window.box, toPaper(window, middle)));
  const open = sheetOf(state.sheet);
  return open && shows(open) ? open : data.sheets.find(shows);
}

function onPaper(sheet, points) {
  const middle = centreOf(points);
  const window = sheet.windows.find((each) => within(each.box, toPaper(each, middle)));
  return boxAround(points.map((point) => toPaper(window, point)));
}

function goTo(part) {
  const sheet = sheetShowing(part.role, pointsOf(part)) || sheetShowing(null, pointsOf(part));
  if (!sheet) return;
  showSheet(sheet.key);
  const [left, top, width, height] = onPaper(sheet, pointsOf(part));
  const middle = [left + width / 2, top + height / 2];
  const near = fitted([left, top, Math.max(width, 1), Math.max(height, 1)], 0.35).zoom;
  const zoom = Math.max(Math.min(near, wholeRoom(sheet).zoom * 2.5), wholeRoom(sheet).zoom);
  look({ x: middle[0], y: middle[1], zoom });
  mark("chosen", chosenPart);
}

// A tapped part must not vanish below the pane that tells of it.
function keepInSight(part) {
  requestAnimationFrame(() => {
    const sheet = sheetOf(state.sheet);
    const points = pointsOf(part);
    if (!sheet || !sheet.windows.some((window) => within(window.box, toPaper(window, centreOf(points))))) return;
    const [left, top, width, height] = onPaper(sheet, points);
    const [x, y] = [left + width / 2, top + height / 2];
    const [w, h] = [stage.clientWidth / view.zoom / 2, stage.clientHeight / view.zoom / 2];
    if (Math.abs(x - view.x) > w * 0.9 || Math.abs(y - view.y) > h * 0.9) look({ x, y, zoom: view.zoom });
  });
}

function goToFinding(number) {
  const all = data.findings[number - 1];
  if (!all?.length) return;
  const showing = (places) => sheetShowing("finding", places) || sheetShowing(null, places);
  const places = showing(all) ? all : all.slice(0, 1);
  const sheet = showing(places);
  if (!sheet) return;
  showSheet(sheet.key);
  const [left, top, width, height] = onPaper(sheet, places);
  const near = Math.max(view.zoom, wholeRoom(sheet).zoom * 1.3);
  const zoom = width || height ? Math.min(near, fitted([left, top, width || 1, height || 1], 0.75).zoom) : near;
  look({ x: left + width / 2, y: top + height / 2, zoom });
  places.forEach(flash);
  speak(say("marked", { n: number, sheet: sheet.title }));
}

document.addEventListener("click", (event) => {
  const named = event.target.closest?.("[data-part]");
  if (named) {
    const part = partsByKey.get(named.dataset.part);
    choose(named.dataset.part);
    if (part) goTo(part);
    return;
  }
  const finding = event.target.closest?.("[data-finding]");
  if (finding) goToFinding(Number(finding.dataset.finding));
});
