// Begin.

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
