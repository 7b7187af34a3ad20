// Drives review.html in headless Chromium as a person would: opens it from disk, taps a wall, filters, searches, uses the
// keys, opens both sides, prints; on a desktop and on a phone.
//
//   npm install playwright-core@1.65.1      (in a folder of its own)
//   PLAYWRIGHT=folder node review.mjs REVIEW.html OUTDIR
//
// Writes pictures and a PDF into OUTDIR, prints what it measured, ends with status 1 if anything is amiss.
import { createRequire } from "node:module";
import { pathToFileURL } from "node:url";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
const require = createRequire(resolve(process.env.PLAYWRIGHT || ".", "x.js"));
const { chromium } = require("playwright-core");

const [file, out] = process.argv.slice(2);
const faults = [];
const want = (ok, what) => { if (!ok) faults.push(what); };
const profile = mkdtempSync(join(tmpdir(), "review-"));
const context = await chromium.launchPersistentContext(profile, {
  executablePath: process.env.CHROMIUM || "/usr/bin/chromium", hasTouch: true,
  args: ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
});
for (const [name, size] of [["desktop", { width: 1440, height: 900 }], ["phone", { width: 390, height: 844 }]]) {
  const page = await context.newPage();
  const see = (ok, what) => want(ok, name + ": " + what);
  await page.setViewportSize(size);
  page.on("console", (m) => { if (m.type() !== "debug") faults.push(name + " console: " + m.text()); });
  page.on("pageerror", (e) => faults.push(name + " script: " + e.message));
  page.on("request", (r) => { if (!/^(file|data|blob):/.test(r.url())) faults.push(name + " asks the network: " + r.url()); });
  page.on("dialog", (d) => { faults.push(name + " text of the drawing ran as a program: " + d.message()); d.dismiss(); });
  await page.goto(pathToFileURL(resolve(file)).href, { waitUntil: "commit" });
  await page.waitForFunction(() => document.body && document.body.dataset.drawn);
  const painted = await page.evaluate(() => Math.round(performance.now()));
  const shot = (what) => page.screenshot({ path: `${out}/${name}${what}.png` });
  await shot("");
  see(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), "the page is wider than its window");
  see(await page.evaluate(() => getComputedStyle(document.body).display === "flex"), "the style was refused");
  see(await page.evaluate(() => document.querySelectorAll("script").length === 3 && !document.querySelector("img, iframe, object, embed, link[rel=stylesheet]")), "strange elements in the page");
  const walls = await page.evaluate(() => data.walls.length);
  if (walls) await drive(page, see, shot, name, painted);
  await page.evaluate(() => { const n = data.storeys.findIndex((s) => s.stand.length); if (n >= 0) { toStorey(n); chooseStand(0, true); } });
  see(await page.evaluate(() => state.stand < 0 || document.getElementById("one").textContent.includes("Not taken off")), "what is not taken off tells nothing");
  // A doubt's whole line is seen once it is chosen, whichever end it is told at.
  const lost = await page.evaluate(() => data.doubts.map((d, i) => {
    if (d.storey < 0 || i > 50) return null;
    chooseDoubt(i, true);
    const q = scene().lineOf(d);
    if (!q) return null;
    const p = pen(), at = [p.sx(q.x0), p.sy(q.y1), p.sx(q.x1), p.sy(q.y0)];
    return at[0] < 0 || at[1] < 0 || at[2] > W || at[3] > H ? d.text : null;
  }).filter(Boolean));
  see(!lost.length, "doubts not wholly in view: " + lost.join("; "));
  await page.evaluate(() => { toStorey(0); look(data.storeys[0].fit); chooseWall(-1); });
  await page.click("#tab-job");
  await page.click("#tab-doubts");
  const rows = page.locator("#doubts button.row:not([disabled])");
  if (await rows.count()) {
    const first = rows.first();
    await first.click();
    see(await first.getAttribute("aria-current") === "true", "a tapped doubt is not marked");
    await shot("-doubt");
  }
  if (name === "desktop") {
    const pdf = await page.pdf({ preferCSSPageSize: true, printBackground: true });
    see(pdf.length > 10000, "nothing printed");
    writeFileSync(`${out}/review.pdf`, pdf);
  }
  await page.close();
}
await context.close();
rmSync(profile, { recursive: true, force: true });
for (const f of faults) console.log("  " + f);
console.log(`review page: ${faults.length} faults`);
process.exit(faults.length ? 1 : 0);

async function drive(page, see, shot, name, painted) {
  const ask = (f, a) => page.evaluate(f, a);
  // Tap a long wall where no doubt lies over it.
  const at = await ask(() => {
    const p = pen(), r = over.getBoundingClientRect();
    for (const q of scene().walls.slice().sort((a, b) => b.w.len - a.w.len).slice(0, 50)) {
      for (let k = 1; k < 40; k++) {
        const m = between(q.p, 0, q.w.len * k / 40), x = p.sx(m[m.length - 2]), y = p.sy(m[m.length - 1]), got = pick(x, y, 7);
        if (document.elementFromPoint(r.left + x, r.top + y) === over && got && got.wall === q.i) return { x: r.left + x, y: r.top + y, id: q.w.id, i: q.i };
      }
    }
    return null;
  });
  if (!at) { see(false, "no long wall can be tapped"); return; }
  // From the pointer's event to the frame that shows the wall.
  await ask(() => {
    over.addEventListener("pointerup", () => { const t = performance.now(); requestAnimationFrame(() => requestAnimationFrame(() => { window.tapped = performance.now() - t; })); }, { once: true, capture: true });
  });
  if (name === "phone") await page.touchscreen.tap(at.x, at.y); else await page.mouse.click(at.x, at.y);
  await page.waitForFunction(() => window.tapped !== undefined);
  see(await ask((i) => state.wall === i, at.i) && (await page.textContent("#one")).includes("Wall " + at.id), "a tap on " + at.id + " shows no wall");
  console.log(`  ${name}: ${await ask(() => data.walls.length)} walls, ${await ask(() => scene().count)} lines, drawn after ${painted} ms, tap to highlight ${Math.round(await ask(() => tapped))} ms`);
  await shot("-wall");

  await page.focus("#over");
  await page.keyboard.press("Enter");
  see(await ask(() => document.getElementById("sides").open), "Enter opens no sides");
  see(await ask(() => data.walls[state.wall].sides.length === 0 || data.sidesLeft || document.querySelectorAll("#sides-body svg text").length > 0), "the sides are empty");
  await page.keyboard.press("+");
  await shot("-sides");
  await page.keyboard.press("Escape");
  see(await ask(() => !document.getElementById("sides").open && document.activeElement === over), "Escape leaves the sides open");

  const seen = [];
  for (let k = 0; k < 40; k++) { await page.keyboard.press("Tab"); seen.push(await ask(() => document.activeElement.id || document.activeElement.className)); }
  see(seen.includes("tab-one") && seen.includes("in"), "Tab reaches not all: " + seen.join(" "));
  await page.focus("#over");
  const look = () => ask(() => ({ ...view() }));
  let v = await look();
  await page.keyboard.press("+");
  see((await look()).s > v.s, "+ does not zoom in");
  await page.keyboard.press("-");
  see(Math.abs((await look()).s / v.s - 1) < 1e-6, "− does not zoom out");
  v = await look();
  await page.keyboard.press("ArrowRight");
  see((await look()).cx > v.cx, "arrows do not move");
  await page.keyboard.press("0");
  await page.keyboard.press("w");
  see(await ask(() => state.wall >= 0), "W goes to no wall");
  await page.keyboard.press("n");
  await page.keyboard.press("Escape");
  see(await ask(() => state.wall < 0), "Escape lets nothing go");

  await page.keyboard.press("/");
  await page.keyboard.type(at.id.toLowerCase());
  await page.waitForTimeout(300); // the last letter counts
  see(await ask((i) => matching[i] && matching.filter(Boolean).length < Math.max(2, data.walls.length), at.i), "search finds nothing or everything");
  await page.keyboard.press("Enter");
  see(await ask((i) => state.wall >= 0 && matching[state.wall], at.i), "Enter goes to no wall found");
  await page.keyboard.press("Escape");
  see(await ask(() => matching.every(Boolean)), "Escape leaves the search on");

  await page.click("#key button[data-type]");
  see(await ask(() => matching.some((m) => !m)), "the key does not filter");
  await page.click("#key button[data-type]");
  await page.click("#tab-walls");
  see(await ask(() => document.querySelectorAll("#walls button.row").length > 0), "no walls are listed");
  const x = Math.round((await page.locator("#over").boundingBox()).width / 2);
  v = await look();
  await page.mouse.move(x, 200); await page.mouse.down(); await page.mouse.move(x - 60, 230, { steps: 4 }); await page.mouse.up();
  see((await look()).cx > v.cx, "dragging does not move");
  await page.click("#fit");
}
