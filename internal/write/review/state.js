// The page: reads the data, keeps one state, draws and lists what it says.

const data = JSON.parse(document.getElementById("data").textContent);
const $ = (id) => document.getElementById(id);
const under = $("under"), over = $("over"), mark = $("mark"), map = $("map");
const state = {
  storey: 0, wall: -1, doubt: -1, open: -1, stand: -1, query: "",
  types: new Set(), // hidden types
  show: { drawing: true, stand: true, unread: true, openings: true, rooms: true, decks: true, labels: true },
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

// What matches the search and the filters.

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
