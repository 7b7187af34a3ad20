// The page: reads the data, keeps one state, draws and lists what it says.

const data = JSON.parse(document.getElementById("data").textContent);
const $ = (id) => document.getElementById(id);
const under = $("under"), over = $("over"), mark = $("mark"), map = $("map");
const state = {
  storey: 0, wall: -1, doubt: -1, open: -1, query: "",
  types: new Set(), // hidden types
  show: { drawing: true, unread: true, openings: true, rooms: true, decks: true, labels: true },
  only: { doubts: false, assumed: false },
  tab: "doubts",
};
const scenes = [];
const views = [];
const sceneOf = (n) => scenes[n] || (scenes[n] = new Scene(data, n));
const scene = () => sceneOf(state.storey);
const view = () => views[state.storey];

// el makes an element; text is always set as text.
function el(tag, props, ...kids) {
  const e = document.createElement(tag);
  for (const k in props || {}) {
    const v = props[k];
    if (k === "on") for (const t in v) e.addEventListener(t, v[t]);
    else if (k in e && k !== "list") e[k] = v;
    else e.setAttribute(k, v);
  }
  for (const kid of kids) if (kid !== null && kid !== undefined) e.append(kid);
  return e;
}
// word sets text of a drawing apart, so that its direction cannot turn ours.
const word = (t) => el("bdi", {}, t);
const rows = (list) => el("dl", {}, ...list.flatMap(([k, v]) => [el("dt", {}, k), el("dd", { dir: "auto" }, v)]));

// ---- what matches

const haystack = data.walls.map((w) => [
  w.id, data.types[w.type].name, w.height, ...w.rooms, ...w.source, ...w.assumed,
].join("\n").toLowerCase());
for (const o of data.openings) haystack[o.wall] += "\n" + [o.id, o.mark, o.kind, o.size].join("\n").toLowerCase();
const doubtsOf = data.walls.map(() => []);
data.doubts.forEach((d, i) => { if (d.wall >= 0) doubtsOf[d.wall].push(i); });
const doubtStack = data.doubts.map((d) => [d.code, d.text, d.did, d.where].join("\n").toLowerCase());
let matching = data.walls.map(() => true);
const words = () => state.query.toLowerCase().split(/\s+/).filter(Boolean);

function refilter() {
  const ws = words();
  matching = data.walls.map((w, i) =>
    !state.types.has(w.type) && (!state.only.assumed || w.assumed.length > 0) && (!state.only.doubts || doubtsOf[i].length > 0) &&
    ws.every((x) => haystack[i].includes(x)));
  const n = matching.filter(Boolean).length;
  $("hits").textContent = state.query ? n + (n === 1 ? " wall" : " walls") : "";
  redraw(); listWalls(); listDoubts();
}
const filtering = () => state.query || state.types.size || state.only.doubts || state.only.assumed;

// ---- drawing

let W = 0, H = 0, ratio = 1, wanted = 0, stale = false, found = false, settle = 0;
const held = { canvas: document.createElement("canvas"), view: null };

function size() {
  const r = map.getBoundingClientRect();
  ratio = Math.min(3, window.devicePixelRatio || 1);
  W = Math.max(1, r.width); H = Math.max(1, r.height);
  for (const c of [under, over, mark]) { c.width = Math.round(W * ratio); c.height = Math.round(H * ratio); }
  held.view = null;
}
function fitted(box, w, h) {
  const bw = Math.max(2000, box[2] - box[0]), bh = Math.max(2000, box[3] - box[1]);
  // On the screen the key covers the foot and the buttons the right side.
  const foot = w === W ? Math.min(keyHeight(), h * 0.3) : 0, right = w === W ? 60 : 0;
  const s = Math.max(1e-6, Math.min((w - 50 - right) / bw, (h - 56 - foot) / bh));
  return { s, cx: (box[0] + box[2]) / 2 + right / 2 / s, cy: (box[1] + box[3]) / 2 - foot / 2 / s };
}
const keyHeight = () => $("key").offsetHeight || 0;
function pen() { return new Pen(scene(), view(), W, H, state.show, (i) => matching[i], ratio); }
const picked = () => ({ wall: state.wall, doubt: data.doubts[state.doubt] });

// redraw asks for one frame: of everything, of what was found and what is
// chosen, or (rechoose) of what is chosen alone, so that a tap is answered at once.
function redraw(lower) {
  if (lower) stale = true;
  found = true;
  rechoose();
}
function rechoose() {
  if (!wanted) wanted = requestAnimationFrame(frame);
}
function frame() {
  wanted = 0;
  if (!view()) return;
  const p = pen();
  if (stale) {
    // A large drawing follows a moving view as the picture last drawn; it is
    // drawn sharp when the view rests.
    if (moving && held.view && scene().count > 3000) shift();
    else sharp(p);
    stale = false;
  }
  if (found) p.over(over.getContext("2d"));
  found = false;
  p.mark(mark.getContext("2d"), picked());
  document.body.dataset.drawn = String(Number(document.body.dataset.drawn || 0) + 1);
}
function sharp(p) {
  p.under(under.getContext("2d"));
  held.view = { ...view(), storey: state.storey };
  if (scene().count > 3000) {
    held.canvas.width = under.width; held.canvas.height = under.height;
    held.canvas.getContext("2d").drawImage(under, 0, 0);
  }
}
function shift() {
  const v = view(), o = held.view, k = v.s / o.s, c = under.getContext("2d");
  c.setTransform(1, 0, 0, 1, 0, 0);
  c.clearRect(0, 0, under.width, under.height);
  const x = (W / 2 * (1 - k) + (o.cx - v.cx) * v.s) * ratio, y = (H / 2 * (1 - k) - (o.cy - v.cy) * v.s) * ratio;
  c.drawImage(held.canvas, x, y, under.width * k, under.height * k);
}
let moving = false;
function moved() {
  moving = true;
  clearTimeout(settle);
  settle = setTimeout(() => { moving = false; redraw(true); }, 140);
  redraw(true);
}
function zoom(k, x = W / 2, y = H / 2) {
  const v = view(), s = Math.max(1e-5, Math.min(20, v.s * k));
  v.cx += (x - W / 2) * (1 / v.s - 1 / s);
  v.cy -= (y - H / 2) * (1 / v.s - 1 / s);
  v.s = s;
  moved();
}
function pan(dx, dy) { const v = view(); v.cx -= dx / v.s; v.cy += dy / v.s; moved(); }
function look(box) { views[state.storey] = fitted(box, W, H); redraw(true); }
function toStorey(n) {
  if (n < 0 || (n === state.storey && views[n])) return; // a tap draws nothing anew
  state.storey = n;
  if (!views[n]) views[n] = fitted(data.storeys[n].fit, W, H);
  held.view = null;
  for (const b of $("storeys").children) {
    b.setAttribute("aria-checked", String(b.value === String(n)));
    b.tabIndex = b.value === String(n) ? 0 : -1;
  }
  redraw(true);
}
// near looks at a place with some of what is around it.
function near(x, y, len) {
  const r = Math.max(len * 0.8, 20000);
  look([x - r, y - r, x + r, y + r]);
}

// ---- choosing

function chooseWall(i, go) {
  state.wall = i; state.doubt = -1; state.open = -1;
  if (i >= 0) {
    toStorey(data.walls[i].storey);
    const q = scene().byWall.get(i);
    if (go && q) near((q.x0 + q.x1) / 2, (q.y0 + q.y1) / 2, q.w.len);
    say(wallName(i));
    tab("one");
  } else { say(""); if (state.tab === "one") tab("doubts"); }
  tellWall(); marks(); rechoose();
}
function chooseDoubt(i, go) {
  const d = data.doubts[i];
  state.doubt = i; state.wall = d.wall; state.open = -1;
  if (d.storey >= 0) {
    toStorey(d.storey);
    if (go && d.at.length) near(d.at[0], d.at[1], d.len);
    else if (go && d.wall >= 0) {
      const q = scene().byWall.get(d.wall);
      if (q) near((q.x0 + q.x1) / 2, (q.y0 + q.y1) / 2, q.w.len);
    }
  }
  say(d.text);
  tellWall(); marks(); rechoose();
}
const say = (t) => { $("say").textContent = t; };
const wallName = (i) => { const w = data.walls[i]; return w.id + ", type " + data.types[w.type].name + ", " + w.rows[0][1] + ", height " + w.height; };
function marks() {
  for (const b of document.querySelectorAll("button.row[data-doubt], button.row[data-wall]")) {
    const on = b.dataset.doubt ? +b.dataset.doubt === state.doubt : +b.dataset.wall === state.wall;
    if (on) b.setAttribute("aria-current", "true"); else b.removeAttribute("aria-current");
  }
}

// pick finds what is under a point of the page, reach in pixels.
function pick(x, y, reach) {
  const p = pen(), s = scene();
  let best = null, least = 14;
  for (const { d, i } of s.doubts) {
    if (d.severity !== "person" && d.len * p.view.s < 4) continue;
    const r = Math.hypot(p.sx(d.at[0]) - x, p.sy(d.at[1]) - y);
    if (r < least) { least = r; best = { doubt: i }; }
  }
  if (best) return best;
  const ux = (x - W / 2) / p.view.s + p.view.cx, uy = (H / 2 - y) / p.view.s + p.view.cy;
  least = Infinity;
  for (const q of s.walls) {
    const w = p.width(q.w) / 2 / p.view.s, far = w + reach / p.view.s;
    if (ux < q.x0 - far || ux > q.x1 + far || uy < q.y0 - far || uy > q.y1 + far) continue;
    const r = Math.max(0, distance(q.p, ux, uy) - w) + (matching[q.i] ? 0 : far / 2);
    if (r <= reach / p.view.s && r < least) {
      least = r;
      best = { wall: q.i };
      for (const { o, p: op } of q.opens) if (op.length >= 4 && distance(op, ux, uy) - w <= reach / 2 / p.view.s) best.open = data.openings.indexOf(o);
    }
  }
  return best;
}
function tap(x, y, reach) {
  const got = pick(x, y, reach);
  if (!got) { chooseWall(-1); return; }
  if (got.doubt !== undefined) {
    chooseDoubt(got.doubt, false);
    tab("doubts"); showDoubt(got.doubt);
    return;
  }
  chooseWall(got.wall, false);
  if (got.open !== undefined) { state.open = got.open; tellWall(); }
}

// ---- pointers

const fingers = new Map();
let start = null;
over.addEventListener("pointerdown", (e) => {
  over.setPointerCapture(e.pointerId);
  fingers.set(e.pointerId, [e.offsetX, e.offsetY]);
  if (fingers.size === 1) start = { x: e.offsetX, y: e.offsetY, far: false };
  else if (start) start.far = true;
});
over.addEventListener("pointermove", (e) => {
  const was = fingers.get(e.pointerId);
  if (!was) {
    if (e.pointerType === "mouse") over.classList.toggle("over", !!pick(e.offsetX, e.offsetY, 5));
    return;
  }
  const now = [e.offsetX, e.offsetY];
  if (fingers.size === 1) {
    if (!start.far && Math.hypot(now[0] - start.x, now[1] - start.y) < 5) return;
    if (!start.far) { start.far = true; over.classList.add("drag"); was[0] = start.x; was[1] = start.y; }
    pan(now[0] - was[0], now[1] - was[1]);
  } else if (fingers.size === 2) {
    const other = [...fingers].find(([id]) => id !== e.pointerId)[1];
    const d0 = Math.hypot(was[0] - other[0], was[1] - other[1]), d1 = Math.hypot(now[0] - other[0], now[1] - other[1]);
    pan((now[0] - was[0]) / 2, (now[1] - was[1]) / 2);
    if (d0 > 1 && d1 > 1) zoom(d1 / d0, (now[0] + other[0]) / 2, (now[1] + other[1]) / 2);
  }
  fingers.set(e.pointerId, now);
});
function lift(e) {
  const had = fingers.delete(e.pointerId);
  over.classList.remove("drag");
  if (had && e.type === "pointerup" && fingers.size === 0 && start && !start.far) tap(start.x, start.y, e.pointerType === "touch" ? 18 : 7);
}
over.addEventListener("pointerup", lift);
over.addEventListener("pointercancel", lift);
over.addEventListener("wheel", (e) => {
  e.preventDefault();
  zoom(Math.exp(-Math.max(-240, Math.min(240, e.deltaY * (e.deltaMode ? 30 : 1))) / 400), e.offsetX, e.offsetY);
}, { passive: false });
over.addEventListener("dblclick", (e) => zoom(2, e.offsetX, e.offsetY));

// ---- keys

function next(list, now, step) { return list.length ? list[(list.indexOf(now) + step + (list.indexOf(now) < 0 && step < 0 ? 1 : 0) + list.length) % list.length] : -1; }
const wallsHere = () => data.walls.map((_, i) => i).filter((i) => matching[i]);
const doubtsRanked = () => data.doubts.map((_, i) => i).filter((i) => data.doubts[i].severity !== "note" && data.doubts[i].storey >= 0);
addEventListener("keydown", (e) => {
  if (e.ctrlKey || e.metaKey || e.altKey) return;
  if ($("sides").open) {
    if (e.key === "+" || e.key === "=") sideZoom(1.25);
    else if (e.key === "-") sideZoom(0.8);
    return;
  }
  const typing = e.target === $("query");
  if (e.key === "Escape") {
    if (typing) { $("query").value = ""; state.query = ""; refilter(); over.focus(); } else chooseWall(-1);
    return;
  }
  if (typing) {
    if (e.key === "Enter" || e.key === "ArrowDown") {
      e.preventDefault();
      const i = next(wallsHere(), state.wall, 1);
      if (i >= 0) chooseWall(i, true);
    }
    return;
  }
  if (e.key === "/") { e.preventDefault(); $("query").focus(); $("query").select(); return; }
  if (e.key === "+" || e.key === "=") zoom(1.4);
  else if (e.key === "-") zoom(1 / 1.4);
  else if (e.key === "0") look(data.storeys[state.storey].fit);
  else if (e.key === "n" || e.key === "N") { const i = next(doubtsRanked(), state.doubt, e.key === "N" ? -1 : 1); if (i >= 0) { chooseDoubt(i, true); tab("doubts"); showDoubt(i); } }
  else if (e.key === "w" || e.key === "W") { const i = next(wallsHere(), state.wall, e.key === "W" ? -1 : 1); if (i >= 0) chooseWall(i, true); }
  else if (e.target === over) {
    const step = e.shiftKey ? 200 : 60;
    if (e.key === "ArrowLeft") pan(step, 0);
    else if (e.key === "ArrowRight") pan(-step, 0);
    else if (e.key === "ArrowUp") pan(0, step);
    else if (e.key === "ArrowDown") pan(0, -step);
    else if (e.key === "Enter") { if (state.wall >= 0) openSides(state.wall); else tap(W / 2, H / 2, 60); }
    else return;
    e.preventDefault();
  }
});
// Groups of one choice: arrows move within.
function roving(box, choose) {
  box.addEventListener("keydown", (e) => {
    const step = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[e.key];
    if (!step) return;
    const all = [...box.querySelectorAll("button")], i = (all.indexOf(e.target) + step + all.length) % all.length;
    all[i].focus(); choose(all[i]); e.preventDefault(); e.stopPropagation();
  });
}

// ---- panel

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
let doubtLists = [];
function listDoubts() {
  const box = $("doubts"), ws = words();
  const shown = data.doubts.map((_, i) => i).filter((i) => ws.every((x) => doubtStack[i].includes(x)) || (ws.length && data.doubts[i].wall >= 0 && matching[data.doubts[i].wall]));
  // Doubts with a place or that need a person are ranked; the rest, noted wall
  // by wall while laying out, are gathered by kind.
  const ranked = shown.filter((i) => { const d = data.doubts[i]; return d.severity === "person" || (d.severity === "warning" && d.placed); });
  const rest = new Map();
  for (const i of shown) {
    const d = data.doubts[i];
    if (d.severity === "person" || (d.severity === "warning" && d.placed)) continue;
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
  $("tab-doubts").textContent = "Doubts " + data.doubts.filter((d) => d.severity === "person" || (d.severity === "warning" && d.placed)).length;
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
    steps(list, wallRow));
  marks();
}
function clearFilter() {
  state.query = ""; $("query").value = ""; state.types.clear();
  state.only.doubts = state.only.assumed = false;
  for (const b of $("key").querySelectorAll("[data-type]")) b.setAttribute("aria-pressed", "true");
  for (const b of $("walls").querySelectorAll("input")) b.checked = false;
  refilter();
}
function tellWall() {
  const box = $("one"), i = state.wall;
  $("tab-one").disabled = i < 0;
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

// ---- key

function swatch(draw, w = 34, h = 14) {
  const c = el("canvas", { width: w * 2, height: h * 2, "aria-hidden": "true" });
  c.style.width = w + "px"; c.style.height = h + "px";
  const x = c.getContext("2d");
  x.scale(2, 2);
  draw(x, w, h);
  return c;
}
function line(w, h) { const p = new Path2D(); p.moveTo(1, h / 2); p.lineTo(w - 1, h / 2); return p; }
const typeSwatch = (k) => swatch((x, w, h) => strokeWall(x, line(w, h), 9, styleOf(k), false, "new"));
const unreadSwatch = () => swatch((x, w, h) => {
  x.strokeStyle = LOUD; x.lineWidth = 4; x.stroke(line(w, h)); x.lineWidth = 1.6;
  for (const a of [5, w - 5]) { x.beginPath(); x.moveTo(a - 4, h / 2 - 4); x.lineTo(a + 4, h / 2 + 4); x.moveTo(a + 4, h / 2 - 4); x.lineTo(a - 4, h / 2 + 4); x.stroke(); }
});
const unreadCount = () => data.storeys.reduce((n, s) => n + s.lines.filter((l) => l.use === "unread").reduce((k, l) => k + l.paths.length, 0), 0);
function keyButton(label, small, sw, pressed, press) {
  const b = el("button", { type: "button", "aria-pressed": String(pressed), on: { click: () => b.setAttribute("aria-pressed", String(press())) } }, sw, el("span", { dir: "auto" }, label), small ? el("small", {}, small) : null);
  b.title = label;
  return b;
}
function paintKey() {
  const kids = [];
  const n = unreadCount();
  const toggle = (k) => () => { state.show[k] = !state.show[k]; redraw(true); return state.show[k]; };
  if (n) kids.push(keyButton("Wall lines not understood", String(n), unreadSwatch(), state.show.unread, toggle("unread")));
  data.types.forEach((t, k) => {
    if (!t.count) return;
    const b = keyButton(t.name, t.length, typeSwatch(k), !state.types.has(k), () => {
      if (state.types.has(k)) state.types.delete(k); else state.types.add(k);
      refilter();
      return !state.types.has(k);
    });
    b.dataset.type = k;
    kids.push(b);
  });
  kids.push(el("span", { className: "gap" }));
  for (const [k, label] of [["drawing", "Drawing"], ["openings", "Openings"], ["rooms", "Rooms"], ["decks", "Decks"], ["labels", "Heights"]]) kids.push(keyButton(label, "", null, state.show[k], toggle(k)));
  $("key").replaceChildren(...kids);
}

// ---- both sides

let sideScale = 0.11, sidePly = 1, sideWall = -1;
function openSides(i) {
  sideWall = i; sidePly = 1;
  const w = data.walls[i];
  $("sides-title").replaceChildren("Wall " + w.id + ", ", word(data.types[w.type].name), ", " + w.rows[0][1] + ", both sides");
  // The longest side fills the width, unless its writing would be too small to read.
  const longest = Math.max(1, ...sidesOf(i).map((d) => d.box[2]));
  sideScale = Math.max(0.12, Math.min(0.2, (Math.min(innerWidth * 0.96, 1500) - 60) / (longest + 30 * data.sideScale)));
  drawSides();
  document.body.classList.add("sides");
  if (!$("sides").open) $("sides").showModal();
  $("sides-body").scrollTop = 0;
  $("sides-close").focus();
}
function drawSides() {
  const all = sidesOf(sideWall), plies = [...new Set(all.map((d) => d.ply))].sort();
  $("plies").replaceChildren(...(plies.length > 1 ? plies.map((n) => {
    const b = el("button", { type: "button", role: "radio", "aria-checked": String(n === sidePly), tabIndex: n === sidePly ? 0 : -1, on: { click: () => { sidePly = n; drawSides(); } } }, n === 1 ? "Base layer" : n === plies.length ? "Face layer" : "Layer " + n);
    return b;
  }) : []));
  const w = data.walls[sideWall], kids = [];
  for (const s of w.sides) {
    const d = all.find((q) => q.face === s.id && q.ply === sidePly);
    const head = el("h3", {}, s.id + ", ", word(s.name), el("span", { className: "soft", dir: "auto" }, "  " + s.rows.slice(0, 3).map(([k, v]) => k.toLowerCase() + " " + v).join("; ")));
    if (d) kids.push(el("div", { className: "side" }, head, el("div", { className: "pic", tabIndex: 0, role: "group", "aria-label": s.id }, sideSVG(d, sideScale, s.id))));
    else if (!all.some((q) => q.face === s.id)) kids.push(el("div", { className: "side" }, head, el("p", { className: "soft" }, data.sidesLeft && !all.length ? "This job is large: its sides are drawn in walls.dxf." : "Nothing to draw.")));
  }
  if (!kids.length) kids.push(el("p", {}, "This wall has no side that is boarded."));
  $("sides-body").replaceChildren(...kids);
}
function sideZoom(k) { sideScale = Math.max(0.02, Math.min(1, sideScale * k)); drawSides(); }
$("sides-in").addEventListener("click", () => sideZoom(1.25));
$("sides-out").addEventListener("click", () => sideZoom(0.8));
$("sides-close").addEventListener("click", () => $("sides").close());
$("sides").addEventListener("close", () => { document.body.classList.remove("sides"); over.focus(); });
roving($("plies"), (b) => { const k = [...$("plies").children].indexOf(b); b.click(); const t = $("plies").children[k]; if (t) t.focus(); });

// ---- paper: the plan of each storey with its doubts

function printPlan() {
  if ($("sides").open) return;
  const kids = [];
  data.storeys.forEach((s, n) => {
    const w = 1060, h = 690, k = 3, c = el("canvas", { className: "plan", width: w * k, height: h * k });
    const lower = el("canvas", { width: w * k, height: h * k });
    const sc = sceneOf(n), v = fitted(s.fit, w + 0.001, h);
    const p = new Pen(sc, v, w, h, state.show, (i) => matching[i], k);
    p.under(lower.getContext("2d"));
    const x = c.getContext("2d");
    p.over(x);
    x.setTransform(1, 0, 0, 1, 0, 0);
    x.globalCompositeOperation = "destination-over";
    x.drawImage(lower, 0, 0);
    kids.push(el("section", { className: "sheet" },
      el("h2", {}, word(data.title), data.storeys.length > 1 ? ", storey " : null, data.storeys.length > 1 ? word(s.name) : null, ", walls found (" + data.stamp + ")"),
      c, el("div", { className: "swatches" }, ...data.types.map((t, k) => t.count ? el("span", {}, typeSwatch(k), word(t.name), t.length) : null), unreadCount() ? el("span", {}, unreadSwatch(), "wall lines not understood") : null)));
  });
  const list = data.doubts.filter((d) => d.severity === "person" || (d.severity === "warning" && d.placed));
  const shown = list.slice(0, 400);
  kids.push(el("section", {},
    el("h2", {}, "Doubts: " + list.length),
    ...data.coverage.map((c) => el("p", {}, "Wall lines read: " + c.percent + " % (" + c.text + "), ", word(c.file))),
    el("ul", {}, ...[...CAUTIONS, ...data.notes].map((t) => el("li", { dir: "auto" }, t))),
    data.assumed.length ? el("p", { dir: "auto" }, "Assumed: " + data.assumed.join("; ")) : null,
    el("table", {}, el("thead", {}, el("tr", {}, ...["Length", "What", "Done", "Where"].map((t) => el("th", {}, t)))),
      el("tbody", {}, ...shown.map((d) => el("tr", {}, el("td", {}, (d.severity === "person" ? "? " : "! ") + d.length), el("td", { dir: "auto" }, d.text), el("td", { dir: "auto" }, d.did), el("td", { dir: "auto" }, d.where))))),
    list.length > shown.length ? el("p", {}, "and " + (list.length - shown.length) + " more in the workbook") : null));
  $("paper").replaceChildren(...kids);
}
addEventListener("beforeprint", printPlan);
addEventListener("afterprint", () => $("paper").replaceChildren());

// ---- go

$("title").textContent = data.title;
$("title").title = data.title;
$("stamp").textContent = data.stamp;
if (data.storeys.length > 1) {
  $("storeys").replaceChildren(...data.storeys.map((s, n) => el("button", { type: "button", role: "radio", value: String(n), title: s.name, on: { click: () => { toStorey(n); } } }, "Storey ", word(s.name))));
  roving($("storeys"), (b) => toStorey(+b.value));
}
$("find").addEventListener("submit", (e) => e.preventDefault());
let typed = 0;
$("query").addEventListener("input", (e) => { state.query = e.target.value; clearTimeout(typed); typed = setTimeout(refilter, data.walls.length > 500 ? 120 : 0); });
$("in").addEventListener("click", () => zoom(1.4));
$("out").addEventListener("click", () => zoom(1 / 1.4));
$("fit").addEventListener("click", () => look(data.storeys[state.storey].fit));
$("all").addEventListener("click", () => look(data.storeys[state.storey].all));
$("walls").append(el("div", {}, tick("with doubts", state.only, "doubts", refilter), tick("with assumed inputs", state.only, "assumed", refilter)), wallList);
paintKey();
size();
toStorey(0);
tab("doubts");
tellWall(); tellJob(); refilter();
new ResizeObserver(() => { const v = view(), first = !v; size(); if (first) toStorey(state.storey); redraw(true); }).observe(map);
