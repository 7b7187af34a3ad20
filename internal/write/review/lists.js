// The lists of doubts and of walls.

function doubtRow(i) {
  const d = data.doubts[i];
  const b = el("button", { type: "button", className: "row " + d.severity, disabled: d.storey < 0, on: { click: () => chooseDoubt(i, true) } },
    d.length ? el("span", { className: "len" }, d.length) : null,
    el("span", { className: "clamp", dir: "auto" }, d.text),
    el("span", { className: "did clamp", dir: "auto" }, d.did),
    el("span", { className: "where clamp", dir: "auto" }, (data.storeys.length > 1 && d.storey >= 0 ? "storey " + data.storeys[d.storey].name + ", " : "") + d.where));
  b.dataset.doubt = i;
  return b;
}
// A warning that names no wall and no place is about the whole drawing, as its
// unit: it is ranked with those that have a place.
const ofWhole = (d) => d.severity === "warning" && !d.placed && d.wall < 0;
const ranks = (d) => d.severity === "person" || (d.severity === "warning" && d.placed) || ofWhole(d);
let doubtLists = [];
function listDoubts() {
  const box = $("doubts"), ws = words();
  const shown = data.doubts.map((_, i) => i).filter((i) => ws.every((x) => doubtStack[i].includes(x)) || (ws.length && data.doubts[i].wall >= 0 && matching[data.doubts[i].wall]));
  // Doubts with a place or that need a person are ranked; the rest, noted wall
  // by wall while laying out, are gathered by kind.
  const ranked = shown.filter((i) => ranks(data.doubts[i]));
  const rest = new Map();
  for (const i of shown) {
    const d = data.doubts[i];
    if (ranks(d)) continue;
    const k = d.severity + "|" + d.code;
    if (!rest.has(k)) rest.set(k, []);
    rest.get(k).push(i);
  }
  doubtLists = [];
  const kids = [...covers()];
  if (!ws.length) {
    kids.push(el("p", { className: "flag" }, word([CAUTIONS[0], ...data.notes].join(" ")), " ",
      data.assumed.length ? data.assumed.length + (data.assumed.length === 1 ? " input was" : " inputs were") + " assumed. " : null,
      el("button", { type: "button", on: { click: () => { tab("job"); $("tab-job").focus(); } } }, "More")));
  }
  const need = ranked.filter((i) => data.doubts[i].severity === "person"), look = ranked.filter((i) => data.doubts[i].severity !== "person");
  look.sort((a, b) => ofWhole(data.doubts[b]) - ofWhole(data.doubts[a])); // of the whole drawing first
  if (need.length) kids.push(el("h3", {}, "Needs a person: " + need.length), track(need));
  if (look.length) kids.push(el("h3", {}, "Look at: " + look.length), track(look));
  if (!ranked.length) kids.push(el("p", {}, ws.length ? "No doubt matches the search." : "Nothing on the plan is in doubt."));
  if (rest.size) kids.push(el("h3", {}, "Allowed or noted, by kind"));
  // Those that tell a length of wall come first: a wall left out is seen here.
  const kinds = [...rest].sort(([a], [b]) => Boolean(data.kinds[b]) - Boolean(data.kinds[a]));
  for (const [k, list] of kinds) {
    const d = el("details", {}, el("summary", {}, k.split("|")[1].replaceAll("-", " ") + " ", el("small", {}, list.length + (k.startsWith("note") ? ", noted" : ", allowed") + (data.kinds[k] && !ws.length ? ", " + data.kinds[k] : ""))));
    d.addEventListener("toggle", () => { if (d.open && d.children.length === 1) d.append(track(list)); marks(); }, { once: true });
    kids.push(d);
  }
  box.replaceChildren(...kids);
  $("tab-doubts").textContent = "Doubts " + data.doubts.filter(ranks).length;
  marks();
}
function track(list) {
  const s = steps(list, doubtRow);
  doubtLists.push([list, s]);
  return s;
}
function showDoubt(i) {
  for (const [list, s] of doubtLists) {
    const k = list.indexOf(i);
    if (k < 0) continue;
    s.upto(k);
    marks();
    const b = s.querySelector(`[data-doubt="${i}"]`);
    if (b) b.scrollIntoView({ block: "nearest" });
    return;
  }
}
function covers() {
  return data.coverage.map((c) => el("div", { className: "cover" },
    el("div", {}, "Wall lines read: ", el("b", {}, c.percent + " %"), " (" + c.text + ")", data.coverage.length > 1 ? el("span", { className: "soft" }, " ", word(c.file)) : null),
    el("progress", { max: 100, value: c.percent, "aria-label": "Wall lines read" })));
}
function wallRow(i) {
  const w = data.walls[i];
  const b = el("button", { type: "button", className: "row", on: { click: () => chooseWall(i, true) } },
    el("span", { className: "len" }, w.rows[0][1]),
    el("b", {}, w.id), " ", word(data.types[w.type].name),
    el("span", { className: "did", dir: "auto" }, w.height + (w.guess ? " (assumed)" : "") + (w.rooms.length ? "; " + w.rooms.join(", ") : "")));
  b.dataset.wall = i;
  return b;
}
function tick(label, box, key, after) {
  return el("label", { className: "tick" }, el("input", { type: "checkbox", checked: box[key], on: { change: (e) => { box[key] = e.target.checked; after(); } } }), label);
}
const wallList = el("div");
function listWalls() {
  const list = wallsHere();
  wallList.replaceChildren(
    el("p", { className: "soft" }, list.length === data.walls.length ? list.length + " walls" : list.length + " of " + data.walls.length + " walls",
      filtering() ? " " : null, filtering() ? el("button", { type: "button", on: { click: clearFilter } }, "Show all") : null),
    steps(list, wallRow), ...standLists());
  marks();
}
// standLists list what is not taken off, storey by storey, by kind.
function standLists() {
  if (filtering()) return [];
  return data.storeys.flatMap((s, n) => {
    if (!s.stand.length) return [];
    const d = el("details", {}, el("summary", {}, "Not taken off ", data.storeys.length > 1 ? word("storey " + s.name + " ") : null, el("small", {}, String(s.stand.length))));
    d.addEventListener("toggle", () => {
      if (d.open && d.children.length === 1) d.append(steps(s.stand, (o) => el("button", { type: "button", className: "row", on: { click: () => { toStorey(n); chooseStand(s.stand.indexOf(o), true); } } },
        el("b", {}, standName(o)), el("span", { className: "did", dir: "auto" }, o.text))));
    });
    return [d];
  });
}
function clearFilter() {
  state.query = ""; $("query").value = ""; state.types.clear();
  state.only.doubts = state.only.assumed = false;
  for (const b of $("key").querySelectorAll("[data-type]")) b.setAttribute("aria-pressed", "true");
  for (const b of $("walls").querySelectorAll("input")) b.checked = false;
  refilter();
}
