// Paper: the plan of each storey with its doubts.

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
  const list = data.doubts.filter(ranks);
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
