// Tabs: one sheet on the stage, one list in the pane. Arrow keys go from tab to tab (ARIA Authoring Practices, tabs).

function select(group, key, keys) {
  for (const each of keys) {
    const tab = byId(`tab-${group}-${each}`);
    const chosen = each === key;
    tab.setAttribute("aria-selected", String(chosen));
    tab.tabIndex = chosen ? 0 : -1;
    byId(`${group}-${each}`).hidden = !chosen;
  }
  byId(`tab-${group}-${key}`)?.scrollIntoView({ block: "nearest", inline: "nearest" });
}

const listKeys = () => [...document.querySelectorAll("#lists [role=tab]")].map((tab) => tab.id.replace("tab-list-", ""));

function showSheet(key) {
  if (!sheetOf(key)) return;
  state.sheet = key;
  select("sheet", key, data.sheets.map((sheet) => sheet.key));
  byId("zoom-room").hidden = !sheetOf(key).windows.length;
  meet(null);
  lookAgain();
  remember();
}

function showList(key) {
  state.list = key;
  setPane("open");
  select("list", key, listKeys());
  remember();
}

// On a phone the pane can be put away, so that the drawing has the whole screen.
function setPane(how) {
  state.pane = how;
  byId("plan").dataset.pane = how;
}

document.addEventListener("click", (event) => {
  const tab = event.target.closest?.("[role=tab]");
  if (!tab) return;
  const [, group, key] = tab.id.match(/^tab-(sheet|list)-(.+)$/);
  if (group === "sheet") return showSheet(key);
  const again = state.list === key && state.pane === "open";
  if (!again) return showList(key);
  if (getComputedStyle(byId("plan")).gridTemplateColumns.split(" ").length === 1) setPane("closed");
  remember();
});

document.addEventListener("keydown", (event) => {
  const tab = event.target.closest?.("[role=tab]");
  if (!tab) return;
  const tabs = [...tab.parentElement.querySelectorAll("[role=tab]")];
  const at = tabs.indexOf(tab);
  const goals = { ArrowLeft: at - 1, ArrowRight: at + 1, Home: 0, End: tabs.length - 1 };
  if (!(event.key in goals)) return;
  event.preventDefault();
  const goal = tabs[(goals[event.key] + tabs.length) % tabs.length];
  goal.focus();
  goal.click();
});
