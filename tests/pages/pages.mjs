// SPDX-License-Identifier: MIT
// Opens every page that the program writes in a headless browser: no console message, no sideways scroll, valid, accessible in light
// and dark, whole rows on paper, the page counts stated, positions as in the JSON, hostile texts as text, small and fast.
// Usage: node pages.mjs TOOL REPO_ROOT WORK_FOLDER    (run.sh has put the packages into the work folder)
import {execFileSync} from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import {createRequire} from 'node:module';
import {pathToFileURL} from 'node:url';
import {checkGeometry, readDrawings} from './geometry.mjs';
import {hostileSurvey, hostileTexts, longest} from './hostile.mjs';

const [tool, root, work] = process.argv.slice(2).map((p) => path.resolve(p));
const require = createRequire(path.join(work, 'package.json'));
const load = async (name) => import(pathToFileURL(require.resolve(name)).href);
const puppeteer = (await load('puppeteer-core')).default;
const {HtmlValidate} = await load('html-validate');
const axeSource = fs.readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');

const faults = [];
const fault = (what) => faults.push(what);
const run = (...args) => execFileSync(tool, args, {encoding: 'utf8', maxBuffer: 1 << 26});
const kWidths = [360, 768, 1200];
const kPapers = ['letter', 'a4'];
// Most pages of paper: what a person would print. The first holds the answer, the last ones what it rests on.
const kMostPages = {report: 14, demo: 9, order: 5, goods: 3, form: 4};
const kMostBytes = 150000;

// ---- The pages

const folder = path.join(work, 'pages');
fs.rmSync(folder, {recursive: true, force: true});
fs.mkdirSync(folder, {recursive: true});
const pages = [];
function write(name, kind, args, survey, units = 'us') {
  const file = path.join(folder, `${name}.html`);
  run(...args, '--output', file, ...(survey ? [survey] : []));
  pages.push({name, kind, file, survey, units, html: fs.readFileSync(file, 'utf8')});
}
const examples = fs.readdirSync(path.join(root, 'examples')).filter((f) => f.endsWith('.json')).sort();
for (const file of examples) {
  const survey = path.join(root, 'examples', file);
  write(file.replace('.json', ''), file === 'demo.json' ? 'demo' : 'report', ['assess', '--format', 'html'], survey);
}
const demo = path.join(root, 'examples', 'demo.json'), full = path.join(root, 'examples', 'full-plan.json');
write('demo-si', 'report', ['assess', '--format', 'html', '--units', 'si'], demo, 'si');
for (const [name, survey] of [['demo', demo], ['stop-hazards', path.join(root, 'examples', 'stop-hazards.json')], ['full-plan', full]]) {
  write(`order-${name}`, 'order', ['order', '--format', 'html'], survey);
  write(`goods-${name}`, 'goods', ['goods', '--format', 'html'], survey);
}
write('form', 'form', ['form', '--format', 'html']);
const hostile = path.join(folder, 'hostile.json');
fs.writeFileSync(hostile, JSON.stringify(hostileSurvey()));
write('hostile', 'hostile', ['assess', '--format', 'html'], hostile);
write('hostile-order', 'hostile', ['order', '--format', 'html'], hostile);
write('hostile-goods', 'hostile', ['goods', '--format', 'html'], hostile);

// ---- What the file itself shows

const validator = new HtmlValidate({extends: ['html-validate:recommended']});
for (const p of pages) {
  if (Buffer.byteLength(p.html) > kMostBytes) fault(`${p.name}: ${Buffer.byteLength(p.html)} bytes, more than ${kMostBytes}`);
  if (/<script|<link|<iframe|<img|@import|https?:|javascript:| on\w+=/i.test(p.html.replace(/&lt;script/g, '').replace(/>[^<]*</g, '><')))
    fault(`${p.name}: a script, a link or a source from elsewhere`);
  const report = await validator.validateString(p.html, p.file);
  for (const result of report.results)
    // The title's length is counted with its entities ("&lt;" as four): only a hostile name can pass it so.
    for (const m of result.messages.filter((x) => p.kind !== 'hostile' || x.ruleId !== 'long-title').slice(0, 5)) fault(`${p.name}: html-validate ${m.ruleId} at ${m.line}:${m.column}: ${m.message}`);
}

// ---- In the browser

const browser = await puppeteer.launch({
  executablePath: process.env.OVERJOIST_CHROMIUM || ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'].find(fs.existsSync),
  timeout: 120000, protocolTimeout: 300000,
  args: ['--no-sandbox', '--disable-gpu', '--disable-dev-shm-usage', '--host-resolver-rules=MAP * ~NOTFOUND'],
});

async function opened(p) {
  const tab = await browser.newPage();
  tab.on('console', (m) => fault(`${p.name}: console: ${m.text()}`));
  tab.on('pageerror', (e) => fault(`${p.name}: error: ${e.message}`));
  tab.on('dialog', (d) => { fault(`${p.name}: a dialog: ${d.message()}`); d.dismiss(); });
  tab.on('request', (r) => { if (!r.url().startsWith('file:')) fault(`${p.name}: asks for ${r.url()}`); });
  await tab.goto(pathToFileURL(p.file).href);
  return tab;
}

async function checkWidths(p, tab) {
  for (const width of kWidths) {
    await tab.setViewport({width, height: 800});
    const wide = await tab.evaluate(() => {
      const limit = document.documentElement.clientWidth;
      const out = [...document.querySelectorAll('body *')].find(
        (e) => !e.closest('.sr') && e.getBoundingClientRect().right > limit + 1);
      return document.documentElement.scrollWidth > limit || out
        ? `${document.documentElement.scrollWidth}, first <${out?.tagName} class="${out?.getAttribute('class')}"> ${out?.textContent.slice(0, 40)}` : '';
    });
    if (wide) fault(`${p.name}: scrolls sideways at ${width} px: ${wide}`);
  }
}

async function checkAxe(p, tab) {
  await tab.setViewport({width: 1000, height: 800});
  for (const scheme of ['light', 'dark']) {
    await tab.emulateMediaFeatures([{name: 'prefers-color-scheme', value: scheme}]);
    const only = scheme === 'dark' ? {runOnly: ['color-contrast']} : {runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'best-practice']};
    const found = await tab.evaluate(async (source, options) => {
      if (!window.axe) (0, eval)(source);
      const result = await window.axe.run(document, {...options, resultTypes: ['violations']});
      return result.violations.map((v) => `${v.id}: ${v.nodes[0].html.slice(0, 120)}`);
    }, axeSource, only);
    for (const f of found) fault(`${p.name}, ${scheme}: axe: ${f}`);
    for (const f of await tab.evaluate(contrasts)) fault(`${p.name}, ${scheme}: ${f}`);
  }
  await tab.emulateMediaFeatures([{name: 'prefers-color-scheme', value: 'light'}]);
}

/** Runs in the page. Source: WCAG 2.1, 1.4.3 and 1.4.11: 4.5 for words, 3 for marks that carry meaning; axe does not look into SVG. */
function contrasts() {
  const style = getComputedStyle(document.documentElement);
  const light = (name) => {
    const hex = style.getPropertyValue(`--${name}`).trim();
    const [r, g, b] = [1, 3, 5].map((i) => parseInt(hex.slice(i, i + 2), 16) / 255).map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const ratio = (a, b) => { const [x, y] = [light(a), light(b)].sort((m, n) => n - m); return (x + 0.05) / (y + 0.05); };
  const words = [['ink', 'paper'], ['ink', 'card'], ['quiet', 'paper'], ['quiet', 'card'], ['accent', 'paper'], ['level', 'paper'],
    ['level', 'soft'], ['on-fill', 'new'], ['on-fill', 'old'], ['on-badge', 'stop'], ['on-badge', 'fix'], ['on-badge', 'care'], ['on-badge', 'note']];
  const marks = [['edge', 'paper'], ['edge', 'card'], ['edge', 'soft'], ['stop', 'paper'], ['fix', 'paper'], ['care', 'paper'], ['note', 'paper'],
    ['level', 'paper']];
  return [...words.map((pair) => [pair, 4.5]), ...marks.map((pair) => [pair, 3])]
    .filter(([pair, least]) => !(ratio(...pair) >= least)).map(([pair, least]) => `contrast of ${pair.join(' on ')} is ${ratio(...pair).toFixed(2)}, below ${least}`);
}

/** Two marks of no size in each row, at its top and at its foot; both must come out on the same sheet. */
function markRows() {
  const rows = [...document.querySelectorAll('tr, .ticks > li, .answer > div')];
  rows.forEach((row, i) => {
    const cell = row.tagName === 'TR' ? row.cells[0] : row;
    row.style.position = 'relative';
    for (const [end, place] of [['a', 'top:0'], ['z', 'bottom:0']]) {
      const mark = document.createElement('span');
      mark.textContent = `Q${i}${end}Q`;
      mark.setAttribute('style', `position:absolute;left:0;${place};font:3px/1 monospace;white-space:nowrap;overflow-wrap:normal`);
      cell.append(mark);
    }
  });
  return rows.length;
}

async function checkPaper(p, tab) {
  if (p.kind === 'hostile') return;
  const rows = await tab.evaluate(markRows);
  for (const paper of kPapers) {
    const file = path.join(folder, `${p.name}-${paper}.pdf`);
    await tab.pdf({path: file, format: paper, printBackground: true});
    const sheets = execFileSync('pdftotext', ['-raw', file, '-'], {encoding: 'utf8', maxBuffer: 1 << 26}).split('\f').slice(0, -1);
    if (sheets.length > kMostPages[p.kind]) fault(`${p.name}: ${sheets.length} pages of ${paper}, more than ${kMostPages[p.kind]}`);
    const where = (mark) => sheets.findIndex((s) => s.includes(mark));
    for (let i = 0; i < rows; i += 1) {
      const [top, foot] = [where(`Q${i}aQ`), where(`Q${i}zQ`)];
      if (top < 0 || top !== foot) fault(`${p.name}: row ${i} stands on page ${top + 1} and ${foot + 1} of ${paper}`);
    }
    p.sheets = {...p.sheets, [paper]: sheets.length};
  }
}

async function checkHostile(p, tab) {
  const seen = await tab.evaluate(() => ({text: document.body.innerText, made: document.querySelectorAll('script, b, img, iframe, [onload]').length}));
  if (seen.made > 0) fault(`${p.name}: a text of the survey became an element`);
  const flat = (text) => text.replace(/\s+/g, ' ');
  for (const text of hostileTexts(p.name)) if (!flat(seen.text).includes(flat(text))) fault(`${p.name}: the text ${JSON.stringify(text)} is not shown as it is`);
  await tab.evaluate((name) => document.querySelectorAll('h1, h2, dt, dd, tbody th, table:not(.wide) thead th, caption, li strong').forEach((e) => { e.textContent = name; }), longest);
  await checkWidths({name: `${p.name} with names of 300 characters`}, tab);
}

let positions = 0;
async function check(p) {
  const tab = await opened(p);
  await checkWidths(p, tab);
  await checkAxe(p, tab);
  if (['report', 'demo', 'hostile'].includes(p.kind) && !/-(order|goods)$/.test(p.name)) {
    const result = JSON.parse(run('assess', '--format', 'json', p.survey));
    const si = p.units === 'si';
    const drawings = await tab.evaluate(readDrawings);
    positions += checkGeometry(p.name, drawings, result, fault, si ? 2.54 : 1, si ? 0.1761101836823 : 1);
  }
  if (p.kind === 'hostile') await checkHostile(p, tab);
  await checkPaper(p, tab);
  await tab.close();
}

const waiting = [...pages];
await Promise.all([0, 1].map(async () => { while (waiting.length > 0) await check(waiting.shift()); }));
await browser.close();

// ---- Speed: processor time of 30 runs each, in turn, so that other work on the machine counts for little. Most of it is the start.

function processorTime(format) {
  const loop = 'i=0; while [ $i -lt 10 ]; do "$0" assess --format "$1" "$2" >/dev/null; i=$((i+1)); done; times';
  const words = execFileSync('sh', ['-c', loop, tool, format, demo], {encoding: 'utf8'}).trim().split('\n').pop().split(' ');
  return words.map((w) => w.match(/(\d+)m([\d.]+)s/)).reduce((sum, m) => sum + 60 * Number(m[1]) + Number(m[2]), 0);
}
let [json, html] = [0, 0];
for (let i = 0; i < 3; i += 1) [json, html] = [json + processorTime('json'), html + processorTime('html')];
if (html > 3 * json) fault(`a report takes ${(html / json).toFixed(1)} times the JSON of the same survey, more than 3`);

if (positions < 500) fault(`only ${positions} positions were compared`);
console.log(faults.slice(0, 60).join('\n'));
console.log(`${pages.length} pages, ${positions} positions, demo on ${JSON.stringify(pages.find((p) => p.name === 'demo').sheets)} pages, ` +
  `report ${(html / json).toFixed(2)} x the JSON, ${faults.length} faults`);
process.exit(faults.length > 0 ? 1 : 0);
