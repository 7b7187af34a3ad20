// The panel: its tabs, long lists, what was chosen, the job.

const TABS = ["doubts", "walls", "one", "job"];
function tab(name) {
  state.tab = name;
  for (const t of TABS) {
    $(t).hidden = t !== name;
    $("tab-" + t).setAttribute("aria-selected", String(t === name));
    $("tab-" + t).tabIndex = t === name ? 0 : -1;
  }
}
for (const t of TABS) $("tab-" + t).addEventListener("click", () => tab(t));
roving($("tabs"), (b) => tab(b.id.slice(4)));

// lazily fills a list in steps, so that thousands of rows do not hold the page.
function steps(list, make, chunk = 80) {
  const ul = el("ul", { className: "plain" });
  const box = el("div", {}, ul);
  let n = 0;
  const more = el("button", { type: "button", className: "more" });
  const add = (upto) => {
    const f = document.createDocumentFragment();
    for (; n < Math.min(upto, list.length); n++) f.append(el("li", {}, make(list[n])));
    ul.append(f);
    more.textContent = "Show " + Math.min(chunk, list.length - n) + " more of " + (list.length - n);
    more.hidden = n >= list.length;
  };
  more.addEventListener("click", () => add(n + chunk));
  box.append(more);
  add(chunk);
  box.upto = (i) => { if (i >= n) add(i + chunk); };
  return box;
}
function tellWall() {
  const box = $("one"), i = state.wall;
  $("tab-one").disabled = i < 0 && state.stand < 0;
  if (state.stand >= 0) { tellStand(box, scene().stand[state.stand].o); return; }
  if (i < 0) { box.replaceChildren(el("p", { className: "soft" }, "Tap a wall on the plan, or choose one from the list.")); return; }
  const w = data.walls[i], y = data.types[w.type];
  const kids = [
    el("h2", {}, "Wall " + w.id + ", ", word(y.name)),
    el("div", { className: "act" }, el("button", { type: "button", className: "main", on: { click: () => openSides(i) } }, "Both sides"),
      el("button", { type: "button", on: { click: () => chooseWall(i, true) } }, "Go to"),
      el("button", { type: "button", on: { click: () => { state.types = new Set(data.types.map((_, k) => k).filter((k) => k !== w.type)); paintKey(); refilter(); } } }, "Only this type")),
    el("p", { className: w.assumed.length ? "flag" : "soft", dir: "auto" }, w.assumed.length === 0 ? "None of its inputs was assumed." : w.assumed.length + " of its inputs assumed: " + w.assumed.join(", ") + "."),
    rows(w.rows),
  ];
  if (doubtsOf[i].length) {
    const d = el("details", { open: doubtsOf[i].length < 4 }, el("summary", {}, "Doubts on it: " + doubtsOf[i].length));
    d.append(el("ul", { className: "plain" }, ...doubtsOf[i].slice(0, 60).map((k) => el("li", {}, doubtRow(k)))));
    kids.push(d);
  }
  if (y.rows.length) kids.push(el("h3", {}, "Type ", word(y.name)), rows(y.rows));
  for (const s of w.sides) kids.push(el("h3", {}, s.id + ", ", word(s.name)), rows(s.rows));
  data.openings.forEach((o, k) => {
    if (o.wall !== i) return;
    const d = el("details", { open: state.open === k }, el("summary", {}, o.id + " " + o.kind + " ", word(o.mark), " ", el("small", {}, o.size)), rows(o.rows));
    kids.push(d);
  });
  kids.push(el("h3", {}, "Drawn as"), el("ul", { className: "plain soft" }, ...w.source.slice(0, 40).map((s) => el("li", { dir: "auto" }, s)),
    w.source.length > 40 ? el("li", {}, "and " + (w.source.length - 40) + " more") : null));
  box.replaceChildren(...kids);
  const open = state.open >= 0 && box.querySelector("details[open] dl");
  if (open) open.scrollIntoView({ block: "nearest" });
}
function tellStand(box, o) {
  box.replaceChildren(
    el("h2", {}, standName(o)),
    el("p", { className: "flag" }, "Not taken off", o.text ? ": " : ".", word(o.text)),
    el("h3", {}, "Drawn as"), el("ul", { className: "plain soft" }, ...o.source.map((s) => el("li", { dir: "auto" }, s))));
}
const CAUTIONS = [
  "An estimate, not a design. Ceilings, bulkheads and soffits are not taken off.",
  "Rated walls follow their listed design exactly; local codes and licensed practice govern.",
  "Heavy sheets, lifts and dust have rules of their own: local law first.",
];
function tellJob() {
  const list = (head, items) => items.length ? [el("h3", {}, head), el("ul", {}, ...items.map((t) => el("li", { dir: "auto" }, t)))] : [];
  $("job").replaceChildren(
    el("h2", { dir: "auto" }, data.title),
    rows([["Stamp", data.stamp], ["Job file", data.file], ...data.files.map((f) => ["Drawing", f]), ...data.totals]),
    ...covers(),
    ...list("Before you rely on it", CAUTIONS), ...list("Notes of the job", data.notes), ...list("Assumed: nobody gave these", data.assumed),
    el("h3", {}, "Types"), ...data.types.filter((t) => t.count).map((t) => el("details", {}, el("summary", {}, word(t.name), " ", el("small", {}, t.count + (t.count === 1 ? " wall, " : " walls, ") + t.length)), rows(t.rows))),
    el("h3", {}, "Keys"),
    el("dl", {}, ...[["/", "search; Enter goes to the next wall found"], ["N", "next doubt, with Shift the one before"], ["W", "next wall, with Shift the one before"], ["+ −", "zoom"], ["arrows", "move, when the plan has the focus"],
      ["0", "all walls"], ["Enter", "both sides of the chosen wall"], ["Esc", "close, or choose nothing"]].flatMap(([k, v]) => [el("dt", {}, el("kbd", {}, k)), el("dd", {}, v)])),
    el("p", { className: "soft" }, "Print this page for the plan with its doubts; with the two sides open it prints those."));
}
