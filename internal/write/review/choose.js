// Choosing a wall or a doubt, from the plan or a list.

function chooseWall(i, go) {
  state.wall = i; state.doubt = -1; state.open = -1; state.stand = -1;
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
  state.doubt = i; state.wall = d.wall; state.open = -1; state.stand = -1;
  if (d.storey >= 0) {
    toStorey(d.storey);
    const line = go && scene().lineOf(d);
    if (line) around(line);
    else if (go && d.at.length) near(d.at[0], d.at[1], d.len);
    else if (go && d.wall >= 0) {
      const q = scene().byWall.get(d.wall);
      if (q) near((q.x0 + q.x1) / 2, (q.y0 + q.y1) / 2, q.w.len);
    }
  }
  say(d.text);
  tellWall(); marks(); rechoose();
}
// chooseStand chooses what is not taken off, of the storey shown.
function chooseStand(i, go) {
  state.wall = state.doubt = state.open = -1;
  state.stand = i;
  const q = scene().stand[i];
  if (go && q) around(q);
  say(standName(q.o));
  tab("one");
  tellWall(); marks(); rechoose();
}
const KINDS = { existing: "Existing wall", demolish: "Wall to be demolished", "left out": "Wall left out" };
const standName = (o) => (KINDS[o.kind] || o.kind[0].toUpperCase() + o.kind.slice(1)) + (o.length ? ", " + o.length : "");
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
  if (!best && state.show.stand) {
    const q = s.stand.find((t) => holds(t.p, ux, uy));
    if (q) best = { stand: q.i };
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
  if (got.stand !== undefined) { chooseStand(got.stand, false); return; }
  chooseWall(got.wall, false);
  if (got.open !== undefined) { state.open = got.open; tellWall(); }
}
