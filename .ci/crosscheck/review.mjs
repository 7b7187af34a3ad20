// Drives review.html in headless Chromium as a person would: load from disk, tap a wall, filter, search, keys, sides, print;
// desktop and phone. usage: node review.mjs REVIEW.html OUTDIR   (PLAYWRIGHT names the folder of playwright-core)
import { createRequire } from "node:module";
import { pathToFileURL } from "node:url";
import { writeFileSync } from "node:fs";
import { resolve } from "node:path";
const require = createRequire(resolve(process.env.PLAYWRIGHT || ".", "x.js"));
const { chromium } = require("playwright-core");

const [file, out] = process.argv.slice(2);
const faults = [];
const want = (ok, what) => { if (!ok) faults.push(what); };
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM || "/usr/bin/chromium",
  args: ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync", "--disable-quic"],
});
for (const [name, size] of [["desktop", { width: 1440, height: 900 }], ["phone", { width: 390, height: 844 }]]) {
  const page = await browser.newPage({ viewport: size, hasTouch: name === "phone" });
  page.on("console", (m) => { if (m.type() === "error") faults.push(name + " console: " + m.text()); });
  page.on("pageerror", (e) => faults.push(name + " script: " + e.message));
  page.on("request", (r) => { if (!/^(file|data|blob):/.test(r.url())) faults.push(name + " asks the network: " + r.url()); });
  const t0 = Date.now();
  await page.goto(pathToFileURL(resolve(file)).href);
  await page.waitForFunction(() => document.body.dataset.drawn);
  const painted = Date.now() - t0;
  want(await page.evaluate(() => typeof data === "object"), "no data");
  const walls = await page.evaluate(() => data.walls.length);
  if (walls) {
    // Tap the middle of the longest wall.
    const at = await page.evaluate(() => {
      const q = scene().walls.slice().sort((a, b) => b.w.len - a.w.len)[0], m = between(q.p, 0, q.w.len * 0.31), p = pen(state.view, ...Object.values(size())), r = over.getBoundingClientRect();
      return { x: r.left + p.sx(m[m.length - 2]), y: r.top + p.sy(m[m.length - 1]), id: q.w.id };
    });
    const t1 = await page.evaluate(() => performance.now());
    await page.mouse.click(at.x, at.y);
    await page.waitForFunction((id) => document.getElementById("one").textContent.includes("Wall " + id), at.id, { timeout: 3000 }).catch(() => faults.push(name + ": a tap on " + at.id + " shows no wall"));
    const tap = await page.evaluate((t) => new Promise((r) => requestAnimationFrame(() => r(performance.now() - t))), t1);
    await page.screenshot({ path: `${out}/${name}-wall.png` });
    console.log(`  ${name}: ${walls} walls, painted after ${painted} ms, tap to highlight ${Math.round(tap)} ms`);
    await page.focus("#over");
    await page.keyboard.press("Enter");
    want(await page.evaluate(() => document.getElementById("sides").open && document.querySelectorAll("#sides-body svg").length > 0), name + ": Enter opens no sides");
    await page.screenshot({ path: `${out}/${name}-sides.png` });
    await page.keyboard.press("Escape");
    want(await page.evaluate(() => !document.getElementById("sides").open), name + ": Escape leaves the sides open");
    await page.keyboard.press("w");
    await page.keyboard.press("n");
    const s0 = await page.evaluate(() => state.view.s);
    await page.keyboard.press("+");
    want(await page.evaluate((s) => state.view.s > s, s0), name + ": + does not zoom");
    const x0 = await page.evaluate(() => state.view.cx);
    await page.focus("#over");
    await page.keyboard.press("ArrowRight");
    want(await page.evaluate((x) => state.view.cx !== x, x0), name + ": arrows do not move");
    await page.keyboard.press("0");
    await page.keyboard.press("/");
    await page.keyboard.type(at.id.toLowerCase());
    want(await page.evaluate(() => state.hits.length >= 1 && state.hits.length < data.walls.length), name + ": search finds nothing or everything");
    await page.keyboard.press("Enter");
    await page.keyboard.press("Escape");
    // A type switched off in the key fades.
    await page.click("#key button[aria-pressed]");
    want(await page.evaluate(() => state.hidden.size === 1), name + ": the key does not filter");
    await page.click("#key button[aria-pressed]");
  }
  await page.click("#tab-doubts");
  await page.screenshot({ path: `${out}/${name}.png` });
  if (name === "desktop") writeFileSync(`${out}/review.pdf`, await page.pdf({ preferCSSPageSize: true, printBackground: true }));
  await page.close();
}
await browser.close();
for (const f of faults) console.log("  " + f);
console.log(`review page: ${faults.length} faults`);
process.exit(faults.length ? 1 : 0);
