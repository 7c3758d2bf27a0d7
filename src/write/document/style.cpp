// SPDX-License-Identifier: MIT
#include "write/document/html.hpp"

// The one style sheet. Colours are named in the first block for light screens and paper, in the
// second for dark screens, and nowhere else. Words on every ground keep a contrast of 4.5 or more,
// lines and fills that carry meaning 3 or more; tests/pages measures both.
namespace overjoist::io {
namespace {

constexpr std::string_view kColours = R"(:root {
  --paper: #f7f3ea; --card: #fffdf8; --ink: #24201a; --quiet: #5a5246; --line: #cbc1ad;
    --accent: #8a3d0c;
  --stop: #971b1b; --fix: #854700; --care: #5f5200; --note: #34526f; --on-badge: #ffffff;
  --old: #b8a583; --new: #f2ac45; --wood: #9c7048; --board: #8d949b; --soft: #e9e1d1;
    --loss: #c8683c; --gain: #5b9a6b;
  --on-fill: #1d1a14; --hatch: #7d6334; --edge: #4c4334; --level: #8a3d0c; --casing: #f7f3ea;
}
@media screen and (prefers-color-scheme: dark) {
  :root {
    --paper: #191714; --card: #23201b; --ink: #f2ede3; --quiet: #bdb4a4; --line: #564e41;
      --accent: #f4b478;
    --stop: #ffa9a0; --fix: #f7bd7a; --care: #e2d06b; --note: #a9c8ea; --on-badge: #1b1712;
    --old: #a89676; --new: #e8a13a; --wood: #a97b50; --board: #9aa1a8; --soft: #3a342b;
      --loss: #d9774a; --gain: #6fb181;
    --on-fill: #17140f; --hatch: #6b5329; --edge: #d9cfbd; --level: #f4b478; --casing: #191714;
  }
}
)";

constexpr std::string_view kText = R"(* { box-sizing: border-box; }
html { background: var(--paper); color: var(--ink); -webkit-text-size-adjust: 100%; }
body { margin: 0; font: 1rem/1.5 Georgia, "DejaVu Serif", serif; overflow-wrap: anywhere; }
main { max-width: 62rem; margin: 0 auto; padding: 1rem clamp(.75rem, 3vw, 2.5rem) 3rem; }
h1, h2, h3, .kind, th, dt, .badge, .figure, svg, caption, .callout-head, .cells, .small-head {
  font-family: "Segoe UI", "Helvetica Neue", Arial, "DejaVu Sans", sans-serif; }
h1 { font-size: clamp(1.5rem, 4.5vw, 2.3rem); line-height: 1.15; margin: .1em 0 .4em;
  letter-spacing: -.01em; }
h2 { font-size: 1.3rem; line-height: 1.25; margin: 2.2rem 0 .6rem; padding-top: .5rem;
  border-top: 3px double var(--line); }
h3 { font-size: 1.05rem; margin: 1.2rem 0 .3rem; }
p, ul, ol, dl { margin: .5rem 0; max-width: 46rem; }
ul, ol { padding-left: 1.4rem; }
li { margin: .25rem 0; }
.kind { margin: 0; color: var(--accent); font-weight: 700; letter-spacing: .04em; }
.n { white-space: nowrap; }
.quiet { color: var(--quiet); font-size: .9rem; }
.sr { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%);
  white-space: nowrap; }
dl > div { display: grid; grid-template-columns: minmax(6.5rem, 9rem) 1fr; gap: 0 1rem;
  padding: .3rem 0; border-bottom: 1px solid var(--line); }
dt { font-weight: 600; color: var(--quiet); }
dd { margin: 0; }
table { border-collapse: collapse; width: 100%; max-width: 46rem; margin: .8rem 0;
  font-variant-numeric: tabular-nums; }
caption { text-align: left; font-weight: 600; padding: .2rem 0; }
th, td { padding: .28rem .4rem; text-align: right; vertical-align: top;
  border-bottom: 1px solid var(--line); }
th:first-child, td:first-child { text-align: left; padding-left: 0; }
tbody th { font-weight: 400; }
thead th { border-bottom: 2px solid var(--edge); vertical-align: bottom; }
tr.group th { font-weight: 600; padding-top: .8rem; }
tr.aside td { text-align: left; color: var(--quiet); font-size: .92em; padding-left: 1rem; }
table.wide th, table.wide td { font-size: .9em; }
table.wide td, table.wide thead th { overflow-wrap: normal; }
table.words td { text-align: left; }
)";

constexpr std::string_view kParts =
    R"(.answer { display: grid; grid-template-columns: 1fr 1fr; gap: 1px; margin: 1rem 0;
  background: var(--line); border: 1px solid var(--edge); border-left: 1.4rem solid transparent;
    position: relative; }
.answer::before { content: ""; position: absolute; left: -1.4rem; top: -1px; bottom: -1px;
  width: 1.4rem;
  border: 1px solid var(--edge); border-right: 0; background:
  repeating-linear-gradient(to bottom, var(--on-fill) 0 1px, transparent 1px 2rem) right / 100%
    100% no-repeat,
  repeating-linear-gradient(to bottom, var(--on-fill) 0 1px, transparent 1px .5rem) right / 40%
    100% no-repeat, var(--new); }
.answer.three { grid-template-columns: 1fr 1fr 1.4fr; }
.answer > div { background: var(--card); padding: .8rem 1rem; }
.answer dt, .small-head { font-size: .9rem; font-weight: 600; color: var(--quiet); margin: 0; }
.answer .figure {  font-size: clamp(1.5rem, 5vw, 2rem); font-weight: 700; line-height: 1.15;
  margin: .1rem 0; }
.answer dl, dl.answer { max-width: none; }
.answer.answer > div { display: block; border: 0; }
.answer .also { font-size: .92rem; color: var(--quiet); }
.callout { border: 2px solid; border-left-width: .6rem; background: var(--card);
  padding: .4rem 1rem .6rem; margin: 1rem 0; max-width: 46rem; }
.callout > * { color: var(--ink); }
.callout-head { font-weight: 600; margin: .3rem 0; }
.badge { display: inline-block; background: currentColor; padding: .05rem .5rem;
  margin-right: .4rem; }
.stop { border-color: var(--stop); border-style: solid; }
.stop .badge { background: var(--stop); color: var(--on-badge); }
.fix { border-color: var(--fix); border-style: dashed; }
.fix .badge { background: var(--fix); color: var(--on-badge); }
.care { border-color: var(--care); border-style: dotted; }
.care .badge { background: var(--care); color: var(--on-badge); }
.note { border-color: var(--note); border-width: 1px 1px 1px .3rem; }
.note .badge { background: var(--note); color: var(--on-badge); }
.stop { border-width: 4px; border-left-width: 1rem; }
.ticks { list-style: none; padding-left: 0; }
.ticks > li { padding-left: 2rem; position: relative; margin: .45rem 0; }
.box { position: absolute; left: 0; top: .15rem; width: 1.15rem; height: 1.15rem;
  border: 2px solid var(--edge); background: var(--card); }
.line { display: flex; align-items: end; gap: .6rem; margin: .9rem 0; }
.rule { flex: 1; min-width: 5rem; border-bottom: 1px solid var(--edge); height: 1.4em; }
.columns { columns: 18rem; column-gap: 2rem; max-width: none; }
.columns > * { break-inside: avoid; }
.columns .line { margin: .35rem 0; } table.fill { max-width: none; table-layout: fixed; }
table.fill th:first-child { width: 38%; }
ul.columns { columns: 12rem; } .ticks.columns > li { margin: .2rem 0; padding-left: 1.6rem;
  min-height: 1.4rem; } .ticks.columns .box { width: 1rem; height: 1rem; top: .2rem; }
.boxes p { margin: .2rem 0; }
.cells { display: flex; flex-wrap: wrap; gap: .35rem; max-width: none; }
.cell { width: 3.1rem; height: 2.1rem; border: 1px solid var(--edge); background: var(--card);
  display: inline-block; }
table.fill td { height: 2rem; border: 1px solid var(--edge); background: var(--card); }
table.fill th { border: 1px solid var(--edge); padding-left: .4rem; }
.keys { list-style: none; padding: 0; display: flex; flex-wrap: wrap; gap: .2rem 1.2rem;
  font-size: .92rem; max-width: none; }
.swatch { display: inline-block; width: 1.1rem; height: 1.1rem; border: 1px solid var(--edge);
  margin-right: .4rem; vertical-align: -.2rem; }
.sw-old { background: radial-gradient(var(--edge) 1px, transparent 1.3px) 0 0 / .35rem .35rem
  var(--old); }
.sw-new { background: repeating-linear-gradient(135deg, var(--hatch) 0 1px, transparent 1px
  .3rem) var(--new); }
.sw-wood { background: var(--wood); } .sw-board { background: var(--board); }
.sw-soft { background: var(--soft); } .sw-loss { background: var(--loss); }
.order > li { margin: .45rem 0; }
th.below { padding-left: 1rem; } th.ticked { padding-left: 1.8rem; position: relative; }
th.ticked .box { top: .35rem; }
figure { margin: 1rem 0; }
figcaption { font-size: .92rem; color: var(--quiet); max-width: 46rem; }
.pair { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(100%, 20rem), 1fr));
  gap: 0 2rem; }
)";

constexpr std::string_view kDrawings =
    R"(svg { display: block; width: 100%; max-width: 34rem; height: auto; font-size: 12px;
  fill: var(--ink); }
svg.broad { max-width: 46rem; }
.fill-old { fill: var(--old); } .fill-new { fill: var(--new); }
.fill-wood { fill: var(--wood); } .fill-board { fill: var(--board); }
.fill-soft { fill: var(--soft); } .fill-loss { fill: var(--loss); }
.fill-gain { fill: var(--gain); } .fill-none { fill: none; }
.hatch-dot { fill: var(--hatch); } .hatch-line { stroke: var(--hatch); stroke-width: 1; }
.fill-card, .ruler { fill: var(--card); }
.edged { stroke: var(--edge); stroke-width: 1; }
.ink { stroke: var(--edge); stroke-width: 1; }
.quiet-line { stroke: var(--line); stroke-width: 1; }
.level { stroke: var(--level); stroke-width: 2; } .dash { stroke-dasharray: 5 3; }
.mark { stroke: var(--edge); stroke-width: 2; }
.casing { stroke: var(--casing); stroke-width: 5; } .on-fill { fill: var(--on-fill); }
svg .said { fill: var(--quiet); } svg .strong { font-weight: 700; }
.mark-word { paint-order: stroke; stroke: var(--paper); stroke-width: 4px;
  stroke-linejoin: round; }
.halo { paint-order: stroke; stroke: var(--new); stroke-width: 5px; stroke-linejoin: round; }
svg .level-word { fill: var(--level); font-weight: 700; }
)";

constexpr std::string_view kPaper = R"(@page { margin: 14mm 13mm; }
@media print {
  :root { --paper: #ffffff; }
  html { background: none; } body { font-size: 10pt; line-height: 1.4; }
  main { padding: 0; max-width: none; }
  p, ul, ol, dl, table, .callout, figcaption { max-width: none; }
  h1, h2, h3, caption, .callout-head, .small-head { break-after: avoid; }
  h2 { margin-top: 1.2rem; }
  tr, figure, li, dl > div, .boxes, .line, .answer { break-inside: avoid; }
  thead { display: table-header-group; break-after: avoid; }
  thead tr, tbody tr:first-child { break-after: avoid; }
  .keys { break-inside: avoid; break-before: avoid; } p, dd, li { orphans: 3; widows: 3; }
  .answer, .answer::before, .badge, svg, .callout { print-color-adjust: exact;
    -webkit-print-color-adjust: exact; }
  .columns { break-inside: avoid; }
  ul.columns { columns: 8.4rem; column-gap: 1rem; font-size: 8.5pt; }
  table.fill td { height: 1.45rem; } .columns .line { margin: .22rem 0; }
  .sketch svg { max-width: none; } table.fill th { font-size: 8.5pt; padding: .15rem .3rem; }
  .cell { width: 2.6rem; height: 1.7rem; }
  .callout-head:last-child { break-after: auto; } h1 { font-size: 17pt; margin: 0 0 .2em; }
  .answer { margin: .5rem 0; }
  .answer .figure { font-size: 17pt; } .answer > div { padding: .4rem .8rem; }
  .callout { margin: .6rem 0; }
  .pair { grid-template-columns: 1fr 1fr; } figure { margin: .5rem 0; }
  .losses svg, .next-steps svg { max-width: 26rem; }
  .in-full { font-size: 8.5pt; columns: 2; column-gap: 8mm; }
  .in-full section:first-child h2 { margin-top: 0; }
  .in-full h2 { font-size: 11pt; margin-top: .8rem; }
  .in-full th, .in-full td { padding: .12rem .3rem; }
  .in-full dl > div { grid-template-columns: 4.6rem 1fr; gap: 0 .5rem; }
  .in-full section:has(table.wide) { column-span: all; }
  .in-full li { margin: .1rem 0; } .in-full dl > div { padding: .15rem 0; }
}
@media screen and (max-width: 34rem) {
  .answer, .answer.three { grid-template-columns: 1fr; }
  th, td { padding: .25rem .2rem; }
  table.wide th, table.wide td { font-size: .78rem; padding: .2rem .2rem; }
  dl > div { grid-template-columns: 1fr; } h2 { font-size: 1.15rem; }
}
)";

}  // namespace

std::string_view html_style() {
  static const std::string all = [] {
    std::string sheet;
    for (const std::string_view part : {kColours, kText, kParts, kDrawings, kPaper}) sheet += part;
    return sheet;
  }();
  return all;
}

}  // namespace overjoist::io
