// Both sides of a wall, in a window of their own.

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
  fromStart();
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
  fromStart();
}
// fromStart shows of a picture wider than the window the end where one begins to hang.
function fromStart() {
  for (const p of document.querySelectorAll("#sides-body .pic")) {
    const s = data.walls[sideWall].sides.find((q) => q.id === p.getAttribute("aria-label"));
    if (s && s.from === "right") p.scrollLeft = p.scrollWidth;
  }
}
function sideZoom(k) { sideScale = Math.max(0.02, Math.min(1, sideScale * k)); drawSides(); }
$("sides-in").addEventListener("click", () => sideZoom(1.25));
$("sides-out").addEventListener("click", () => sideZoom(0.8));
$("sides-close").addEventListener("click", () => $("sides").close());
$("sides").addEventListener("close", () => { document.body.classList.remove("sides"); over.focus(); });
roving($("plies"), (b) => { const k = [...$("plies").children].indexOf(b); b.click(); const t = $("plies").children[k]; if (t) t.focus(); });
