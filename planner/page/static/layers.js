// Layers on and off, on all sheets at once; and the colours of the lines on dark paper.

function swatch(layer) {
  const sample = makeSvg("svg", { viewBox: "0 0 28 16", "aria-hidden": "true" });
  const line = makeSvg("path", { d: "M1 8H27", stroke: "currentColor", "stroke-width": "4", "data-colour": layer.colour });
  sample.append(line);
  return sample;
}

function showSwitches() {
  const rows = data.layers.map((layer) => {
    const box = make("input", { type: "checkbox", "data-switch": layer.name, id: `switch-${layer.name}` });
    box.checked = !state.hidden.includes(layer.name);
    const words = make("span", {}, layer.label, make("small", { translate: "no" }, layer.name));
    return make("label", { for: box.id }, box, swatch(layer), words);
  });
  const all = make("button", { type: "button", class: "all" }, say("show all"));
  all.addEventListener("click", () => {
    state.hidden = [];
    document.querySelectorAll("[data-switch]").forEach((box) => (box.checked = true));
    applyLayers();
  });
  byId("switches")?.replaceChildren(all, ...rows);
}

document.addEventListener("change", (event) => {
  const name = event.target.dataset?.switch;
  if (!name) return;
  state.hidden = state.hidden.filter((each) => each !== name);
  if (!event.target.checked) state.hidden.push(name);
  applyLayers();
});

function applyLayers() {
  document.querySelectorAll("#stage [data-layer]").forEach((group) => {
    group.style.display = state.hidden.includes(group.dataset.layer) ? "none" : "";
  });
  remember();
}

// --- dark and light ---

// The same hue with its lightness turned over, and never so dark that it is lost on dark paper.
function turnedOver(colour) {
  const [r, g, b] = [1, 3, 5].map((k) => parseInt(colour.slice(k, k + 2), 16) / 255);
  const [most, least] = [Math.max(r, g, b), Math.min(r, g, b)];
  const light = (most + least) / 2;
  const range = most - least;
  const vivid = range ? range / (1 - Math.abs(2 * light - 1)) : 0;
  let hue = 0;
  if (range) hue = most === r ? ((g - b) / range + 6) % 6 : most === g ? (b - r) / range + 2 : (r - g) / range + 4;
  const turned = light > 0.8 ? 0.17 + (1 - light) * 0.9 : 0.95 - 0.5 * light;
  return `hsl(${Math.round(hue * 60)} ${Math.round(vivid * 80)}% ${Math.round(turned * 100)}%)`;
}

const darkByWish = matchMedia("(prefers-color-scheme: dark)");

function keptTheme() {
  try {
    return localStorage.getItem("ceiling-theme");
  } catch {
    return null;
  }
}

function applyTheme(theme) {
  root.dataset.theme = theme;
  const dark = theme === "dark";
  byId("theme").textContent = say(dark ? "light" : "dark");
  document.querySelectorAll("#stage [data-layer]").forEach((group) => {
    group.style.color = dark ? turnedOver(group.getAttribute("color")) : "";
  });
  document.querySelectorAll("[data-colour]").forEach((line) => {
    line.style.color = dark ? turnedOver(line.dataset.colour) : line.dataset.colour;
  });
}

byId("theme").addEventListener("click", () => {
  const theme = root.dataset.theme === "dark" ? "light" : "dark";
  applyTheme(theme);
  try {
    localStorage.setItem("ceiling-theme", theme);
  } catch {
    // as in `remember`
  }
});
darkByWish.addEventListener("change", () => keptTheme() || applyTheme(darkByWish.matches ? "dark" : "light"));

// Printing is on white paper.
addEventListener("beforeprint", () => {
  document.querySelectorAll("#stage [data-layer]").forEach((group) => (group.style.color = ""));
});
addEventListener("afterprint", () => applyTheme(root.dataset.theme));
