// The live page: hears when the room file was saved, takes over what the new page holds, keeps what the reader does.

const news = byId("news");

function tell(kind, text) {
  if (!news) return;
  news.dataset.state = kind;
  news.textContent = text;
}

// Take sheets, lists and data from the page as it is now. What has the keyboard keeps it.
async function renew(version) {
  const answer = await fetch(location.pathname, { cache: "no-store" });
  if (!answer.ok) return;
  const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
  if (fresh.documentElement.lang !== root.lang) return location.reload();
  const focused = document.activeElement?.id;
  const scrolled = new Map([...document.querySelectorAll(".list")].map((list) => [list.id, list.scrollTop]));
  const ticked = [...document.querySelectorAll(".work input:checked")].map((box) => box.id);
  for (const id of ["rooms", "sheets", "stage", "lists", "panels", "job"]) {
    byId(id).replaceChildren(...document.adoptNode(fresh.getElementById(id)).childNodes);
  }
  byId("data").textContent = fresh.getElementById("data").textContent;
  document.title = fresh.title;
  data = readData(document);
  settle();
  for (const id of ticked) if (byId(id)) byId(id).checked = true;
  for (const [id, top] of scrolled) if (byId(id)) byId(id).scrollTop = top;
  if (focused && document.activeElement?.id !== focused) byId(focused)?.focus({ preventScroll: true });
  if (data.version < version) await renew(version);
}

// The line of the file with what is wrong in it underlined.
function lineOf({ line, column, width, text }) {
  if (!line || !text) return [];
  const end = column - 1 + Math.max(width, 1);
  const row = make("pre", { tabindex: "0", "aria-label": say("line", { n: line }) });
  row.append(make("b", {}, `${line} | `), text.slice(0, column - 1));
  row.append(make("mark", {}, text.slice(column - 1, end) || " "), text.slice(end));
  return [row];
}

function complaint(each) {
  const where = [each.file, each.line ? say("in line", { n: each.line }) : "", each.place].filter(Boolean).join(", ");
  return make(
    "article",
    {},
    ...(where ? [make("p", { class: "at" }, where)] : []),
    make("p", { lang: "en" }, each.problem.charAt(0).toUpperCase() + each.problem.slice(1)),
    ...lineOf(each),
    ...(each.mend ? [make("p", { class: "mend", lang: "en" }, each.mend)] : []),
  );
}

function showTrouble(complaints) {
  const place = byId("trouble");
  place.hidden = !complaints.length;
  if (!complaints.length) return place.replaceChildren();
  const kept = say(data.sheets.length ? "last good" : "no plan");
  place.replaceChildren(
    make("h2", {}, say(complaints.length > 1 ? "things" : "one thing", { n: complaints.length })),
    ...complaints.map(complaint),
    make("p", {}, kept),
  );
}

let heard = 0;

async function hear(said) {
  const turn = ++heard;
  if (said.state === "busy") return tell("busy", say("planning"));
  if (said.version !== data.version) await renew(said.version);
  if (turn !== heard) return; // there has been other news meanwhile
  showTrouble(said.trouble);
  if (said.trouble.length) return tell("trouble", say("not planned"));
  tell("well", say("planned", { seconds: said.seconds }));
}

function listen() {
  if (!root.dataset.news) return;
  const source = new EventSource(root.dataset.news);
  source.onmessage = (event) => hear(JSON.parse(event.data));
  source.onerror = () => tell("off", say("stopped"));
}
