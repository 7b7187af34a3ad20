// Fingers, mouse and keys.

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

// Keys.

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
