// The pen: what is drawn on the canvases, from a scene and a view on it.

// Pen draws a scene into a pair of contexts with one view.
class Pen {
  constructor(scene, view, w, h, show, match, ratio) {
    Object.assign(this, { scene, view, w, h, show, match, ratio });
    const m = 40 / view.s;
    this.x0 = view.cx - w / 2 / view.s - m; this.x1 = view.cx + w / 2 / view.s + m;
    this.y0 = view.cy - h / 2 / view.s - m; this.y1 = view.cy + h / 2 / view.s + m;
  }
  sx(x) { return (x - this.view.cx) * this.view.s + this.w / 2; }
  sy(y) { return this.h / 2 - (y - this.view.cy) * this.view.s; }
  sees(q) { return q.x1 >= this.x0 && q.x0 <= this.x1 && q.y1 >= this.y0 && q.y0 <= this.y1; }
  clear(c) {
    c.setTransform(this.ratio, 0, 0, this.ratio, 0, 0);
    c.clearRect(0, 0, this.w, this.h);
    c.lineCap = "butt"; c.lineJoin = "miter"; c.miterLimit = 4; c.setLineDash([]);
  }
  trace(c, p, close) {
    for (let i = 0; i < p.length; i += 2) {
      // What lies far outside is brought near: canvases are exact to some 2^20 pixels.
      const x = Math.max(-60000, Math.min(60000, this.sx(p[i]))), y = Math.max(-60000, Math.min(60000, this.sy(p[i + 1])));
      if (i) c.lineTo(x, y); else c.moveTo(x, y);
    }
    if (close) c.closePath();
  }
  // under draws the linework. What is smaller than half a pixel becomes a dot:
  // nothing vanishes.
  under(c) {
    this.clear(c);
    if (this.show.drawing === false) return;
    const small = 0.5 / this.view.s;
    for (const use of USES) {
      const [colour, width] = GREYS[use];
      c.strokeStyle = colour; c.fillStyle = colour; c.lineWidth = width;
      c.beginPath();
      let n = 0;
      for (const q of this.scene.lines[use]) {
        if (!this.sees(q)) continue;
        if (q.x1 - q.x0 < small && q.y1 - q.y0 < small) { c.fillRect(this.sx(q.x0), this.sy(q.y0), 1, 1); continue; }
        this.trace(c, q.p);
        if (++n % 400 === 0) { c.stroke(); c.beginPath(); } // long paths rasterise slowly
      }
      c.stroke();
    }
  }
  over(c) {
    this.clear(c);
    this.taken = [];
    if (this.show.rooms !== false) this.rooms(c);
    if (this.show.decks !== false) this.decks(c);
    if (this.show.stand !== false) this.stands(c);
    this.walls(c);
    if (this.show.openings !== false) for (const q of this.scene.walls) if (q.opens.length && this.sees(q) && this.match(q.i)) this.openings(c, q);
    if (this.show.unread !== false) this.unread(c);
    this.doubts(c);
    if (this.show.labels !== false) this.labels(c);
    if (this.show.rooms !== false) this.roomNames(c);
  }
  // mark draws what is chosen, over all else.
  mark(c, chosen) {
    this.clear(c);
    this.taken = [];
    this.chosen(c, chosen);
  }
  rooms(c) {
    c.strokeStyle = "#b9c2c8"; c.fillStyle = "rgba(80,100,115,.045)"; c.lineWidth = 0.8;
    for (const r of this.scene.rooms) {
      if (!this.sees(r) || r.p.length < 6) continue;
      c.beginPath(); this.trace(c, r.p, true); c.fill(); c.stroke();
    }
  }
  decks(c) {
    c.strokeStyle = SOFT; c.lineWidth = 1.2; c.setLineDash([14, 4, 2, 4]);
    for (const d of this.scene.decks) {
      if (d.p.length < 6) continue;
      c.beginPath(); this.trace(c, d.p, true); c.stroke();
    }
    c.setLineDash([]);
  }
  // stands draws what is not taken off: grey, and by its outline: whole where it
  // stays, in dashes where it was left out, in dots where it goes.
  stands(c) {
    c.fillStyle = "rgba(120,132,140,.28)"; c.strokeStyle = "#77838b"; c.lineWidth = 1.1;
    for (const q of this.scene.stand) {
      if (!this.sees(q) || q.p.length < 6) continue;
      c.setLineDash({ demolish: [1.5, 3], "left out": [5, 3] }[q.o.kind] || []);
      c.beginPath(); this.trace(c, q.p, true);
      if (q.o.kind !== "demolish") c.fill();
      c.stroke();
    }
    c.setLineDash([]);
  }
  width(w) { return Math.max(w.thick * this.view.s, 5); }
  walls(c) {
    const sets = new Map();
    for (const q of this.scene.walls) {
      if (!this.sees(q)) continue;
      const faded = !this.match(q.i);
      const k = faded + "|" + q.w.type + "|" + q.w.thick + "|" + q.w.status;
      if (!sets.has(k)) sets.set(k, { faded, w: q.w, list: [] });
      sets.get(k).list.push(q);
    }
    for (const { faded, w, list } of sets.values()) {
      const path = new Path2D();
      for (const q of list) this.trace(path, q.p);
      strokeWall(c, path, this.width(w), styleOf(w.type), faded, w.status);
    }
  }
  openings(c, q) {
    const w = this.width(q.w);
    for (const { o, p } of q.opens) {
      if (p.length < 4) continue;
      const path = new Path2D();
      this.trace(path, p);
      c.strokeStyle = PAPER; c.lineWidth = w + 1; c.stroke(path);
      c.strokeStyle = INK;
      if (o.kind === "window") { c.lineWidth = Math.min(4, w - 1); c.stroke(path); c.strokeStyle = PAPER; c.lineWidth = Math.min(2, w - 3); c.stroke(path); }
      else if (o.kind === "door") { c.lineWidth = 1.2; c.stroke(path); }
      else { c.lineWidth = 1.2; c.setLineDash([3, 3]); c.stroke(path); c.setLineDash([]); }
      this.jambs(c, p, w);
    }
  }
  jambs(c, p, w) {
    c.strokeStyle = INK; c.lineWidth = 1.4;
    c.beginPath();
    for (const [i, k] of [[0, 2], [p.length - 2, p.length - 4]]) {
      const x = this.sx(p[i]), y = this.sy(p[i + 1]), a = Math.atan2(this.sy(p[k + 1]) - y, this.sx(p[k]) - x) + Math.PI / 2;
      const dx = Math.cos(a) * (w / 2 + 2), dy = Math.sin(a) * (w / 2 + 2);
      c.moveTo(x - dx, y - dy); c.lineTo(x + dx, y + dy);
    }
    c.stroke();
  }
  // unread is loud by weight and by the crosses at its ends as well as colour.
  unread(c) {
    c.strokeStyle = LOUD; c.lineCap = "round";
    const cross = new Path2D(), lines = new Path2D();
    for (const q of this.scene.lines.unread) {
      if (!this.sees(q)) continue;
      this.trace(lines, q.p);
      for (const i of [0, q.p.length - 2]) {
        const x = this.sx(q.p[i]), y = this.sy(q.p[i + 1]);
        cross.moveTo(x - 4, y - 4); cross.lineTo(x + 4, y + 4); cross.moveTo(x + 4, y - 4); cross.lineTo(x - 4, y + 4);
      }
    }
    c.lineWidth = 4; c.stroke(lines);
    c.lineWidth = 1.6; c.stroke(cross);
    c.lineCap = "butt";
  }
  chosen(c, ch) {
    const q = this.scene.byWall.get(ch.wall);
    if (q) {
      const path = new Path2D(), w = this.width(q.w);
      this.trace(path, q.p);
      c.lineCap = "square";
      c.strokeStyle = INK; c.lineWidth = w + 9; c.stroke(path);
      c.strokeStyle = "#ffe36b"; c.lineWidth = w + 5; c.stroke(path);
      c.lineCap = "butt";
      strokeWall(c, path, w, styleOf(q.w.type), false, q.w.status);
      this.openings(c, q);
      const t = this.texts(q)[0];
      c.textBaseline = "middle"; c.textAlign = "center"; c.lineJoin = "round";
      c.font = "bold 13px Liberation Sans, Arial, sans-serif";
      this.along(c, q, t, c.measureText(t).width, true);
      c.lineJoin = "miter";
    }
    if (ch.stand) this.halo(c, ch.stand.p, true);
    const d = ch.doubt, line = d && this.scene.lineOf(d);
    if (line) this.halo(c, line.p, line.close);
    else if (d && d.at.length) {
      const x = this.sx(d.at[0]), y = this.sy(d.at[1]), r = Math.max(16, Math.min(300, d.len / 2 * this.view.s + 10));
      c.strokeStyle = INK; c.lineWidth = 5; c.beginPath(); c.arc(x, y, r, 0, 7); c.stroke();
      c.strokeStyle = "#ffe36b"; c.lineWidth = 2.5; c.beginPath(); c.arc(x, y, r, 0, 7); c.stroke();
    }
  }
  // halo marks a line or an outline, wide enough to be seen at any zoom.
  halo(c, p, close) {
    const path = new Path2D();
    this.trace(path, p, close);
    c.lineCap = "round"; c.lineJoin = "round";
    c.strokeStyle = INK; c.lineWidth = 11; c.stroke(path);
    c.strokeStyle = "#ffe36b"; c.lineWidth = 7; c.stroke(path);
    c.strokeStyle = LOUD; c.lineWidth = 3; c.stroke(path);
    c.lineCap = "butt"; c.lineJoin = "miter";
  }
  doubts(c) {
    c.font = "bold 12px Liberation Sans, Arial, sans-serif"; c.textAlign = "center"; c.textBaseline = "middle";
    const taken = new Set(); // of doubts that crowd the longest is marked
    const here = this.scene.doubts.filter(({ d }) => {
      const x = this.sx(d.at[0]), y = this.sy(d.at[1]);
      return x >= -20 && y >= -20 && x <= this.w + 20 && y <= this.h + 20 && (d.severity === "person" || d.len * this.view.s >= 4);
    });
    // Hundreds of small warnings, a floor's tiles taken for something, would hide
    // the plan: they shrink to ticks until one looks closer.
    const many = here.reduce((n, { d }) => n + (d.severity !== "person"), 0) > 60;
    for (const { d } of here) {
      const x = this.sx(d.at[0]), y = this.sy(d.at[1]), person = d.severity === "person";
      const cell = Math.round(x / 20) + "," + Math.round(y / 20);
      if (taken.has(cell)) continue;
      taken.add(cell);
      if (many && !person) {
        c.fillStyle = INK; c.beginPath(); c.moveTo(x, y - 3); c.lineTo(x + 3, y + 2.5); c.lineTo(x - 3, y + 2.5); c.fill();
        continue;
      }
      c.beginPath();
      if (person) c.arc(x, y, 8.5, 0, 7); else { c.moveTo(x, y - 8); c.lineTo(x + 8, y + 6); c.lineTo(x - 8, y + 6); c.closePath(); }
      c.fillStyle = person ? LOUD : PAPER; c.strokeStyle = person ? PAPER : INK; c.lineWidth = 1.6;
      c.fill(); c.stroke();
      c.fillStyle = person ? PAPER : INK;
      c.fillText(person ? "?" : "!", x, y + (person ? 0.5 : 1));
    }
  }
  // free says whether a box of the page is not yet written on, and takes it.
  free(x, y, w, h) {
    for (const t of this.taken) if (x < t[2] && x + w > t[0] && y < t[3] && y + h > t[1]) return false;
    this.taken.push([x, y, x + w, y + h]);
    return true;
  }
  // texts are what can be written beside a wall, the fullest first.
  texts(q) {
    const type = short(this.scene.names[q.w.type], 24), high = short(q.w.height, 40) + (q.w.guess ? " ?" : "");
    return [q.w.id + "  " + type + "  " + high, type + "  " + high, high, type];
  }
  labels(c) {
    c.textBaseline = "middle"; c.textAlign = "center"; c.lineJoin = "round";
    c.font = "11.5px Liberation Sans, Arial, sans-serif";
    const list = [];
    for (const q of this.scene.walls) {
      const px = q.w.len * this.view.s;
      if (px > 26 && this.sees(q) && this.match(q.i)) list.push({ q, px });
    }
    list.sort((a, b) => b.px - a.px || a.q.i - b.q.i);
    let n = 0;
    for (const { q, px } of list) {
      if (n > 500) break;
      for (const t of this.texts(q)) {
        const w = c.measureText(t).width;
        if (w <= px * 0.96 && this.along(c, q, t, w, false)) { n++; break; }
      }
    }
    c.lineJoin = "miter";
  }
  along(c, q, t, w, mine) {
    const mid = between(q.p, 0, q.w.len / 2), k = mid.length - 2;
    if (k < 2) return false;
    let x = this.sx(mid[k]), y = this.sy(mid[k + 1]);
    let a = Math.atan2(this.sy(mid[k + 1]) - this.sy(mid[k - 1]), this.sx(mid[k]) - this.sx(mid[k - 2]));
    // Upright walls are read from the right, as on every plan.
    if (a > Math.PI / 2 - 0.01) a -= Math.PI;
    if (a < -Math.PI / 2 - 0.01) a += Math.PI;
    const off = this.width(q.w) / 2 + (mine ? 12 : 8);
    const cs = Math.cos(a), sn = Math.sin(a), bw = Math.abs(cs) * w + Math.abs(sn) * 13, bh = Math.abs(sn) * w + Math.abs(cs) * 13;
    for (const side of [1, -1]) {
      const px = x + sn * off * side, py = y - cs * off * side;
      if (!mine && (px < 0 || py < 0 || px > this.w || py > this.h)) continue;
      if (!this.free(px - bw / 2, py - bh / 2, bw, bh) && !mine) continue;
      c.save();
      c.translate(px, py); c.rotate(a);
      if (mine) { c.fillStyle = PAPER; c.fillRect(-w / 2 - 3, -9, w + 6, 18); } // over the same name written small
      c.strokeStyle = "rgba(255,255,255,.92)"; c.lineWidth = 3.5; c.strokeText(t, 0, 0);
      c.fillStyle = INK; c.fillText(t, 0, 0);
      c.restore();
      return true;
    }
    return false;
  }
  roomNames(c) {
    c.textAlign = "center"; c.textBaseline = "middle"; c.lineJoin = "round";
    const write = (t, x, y, font) => {
      c.font = font;
      const w = c.measureText(t).width;
      if (!this.free(x - w / 2, y - 7, w, 14)) return false;
      c.strokeStyle = "rgba(255,255,255,.9)"; c.lineWidth = 3; c.strokeText(t, x, y);
      c.fillText(t, x, y);
      return w;
    };
    c.fillStyle = SOFT;
    for (const r of this.scene.rooms) {
      if (!this.sees(r) || !r.text) continue;
      const bw = (r.x1 - r.x0) * this.view.s;
      if (bw < 30) continue;
      const [mx, my] = inner(r);
      const x = this.sx(mx), y = this.sy(my), t = short(r.text, 40);
      c.font = "italic 12px Liberation Sans, Arial, sans-serif";
      if (c.measureText(t).width > bw * 1.3) continue;
      if (write(t, x, y, "italic 12px Liberation Sans, Arial, sans-serif") && bw > 130) write(r.more, x, y + 14, "italic 10.5px Liberation Sans, Arial, sans-serif");
    }
    if (this.show.decks !== false) {
      c.fillStyle = INK;
      this.scene.decks.forEach((d, i) => {
        const t = short(d.text, 70);
        c.font = "11.5px Liberation Sans, Arial, sans-serif";
        if (d.p.length >= 6) write(t, this.sx((d.x0 + d.x1) / 2), this.sy(d.y1) - 9, c.font);
        else { c.textAlign = "left"; this.free(8, 8 + 16 * i, c.measureText(t).width, 14); c.fillText(t, 10, 16 + 16 * i); c.textAlign = "center"; }
      });
    }
    c.lineJoin = "miter";
  }
}
