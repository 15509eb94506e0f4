// Put everything in its place: at the start, and again whenever the page has been renewed.

// Titles become words beside the pointer, which appear at once and on touch as well.
function takeTitles() {
  document.querySelectorAll("#stage svg").forEach((svg) => {
    svg.querySelectorAll("title").forEach((title) => {
      if (title.parentElement !== svg) title.parentElement.dataset.title = title.textContent;
      title.remove();
    });
  });
}

function layPaper() {
  for (const { key, title, paper } of data.sheets) {
    const svg = svgOf(key);
    svg.setAttribute("role", "img");
    svg.setAttribute("aria-label", title);
    svg.prepend(makeSvg("rect", { class: "paper", width: paper[0], height: paper[1] }));
  }
}

function settle() {
  partsByKey = new Map(data.parts.map((part) => [part.key, part]));
  takeTitles();
  layPaper();
  setPages();
  showSwitches();
  applyTheme(root.dataset.theme);
  applyLayers();
  showSheet(sheetOf(state.sheet) ? state.sheet : data.sheets[0]?.key);
  const pane = state.pane || (stage.clientWidth < 640 ? "closed" : "open");
  const list = listKeys().includes(state.list) ? state.list : "details";
  const chosen = state.chosen;
  choose(partsByKey.has(chosen) ? chosen : "");
  showList(list);
  setPane(pane);
  lookAgain();
}

root.classList.add("runs");
recall();
root.dataset.theme = keptTheme() || (darkByWish.matches ? "dark" : "light");
settle();
listen();
