// SPDX-License-Identifier: MIT
// Positions read back from the drawings of a page, turned into numbers by the ticks of their own axes, and held against the JSON of
// the same survey. Invariant: a drawing is made from the evaluation, so each position is the number, to the two decimals of SVG.

/** Runs in the page: all that the checks need, as plain numbers. */
export function readDrawings() {
  const number = (e, name) => Number(e.getAttribute(name));
  const ticks = (svg, group, axis) =>
    [...svg.querySelectorAll(`${group} .tick`)].map((line, i) => [
      Number(svg.querySelectorAll(`${group} .tick-word`)[i].textContent), number(line, axis)]);
  const rects = (svg, which) => [...svg.querySelectorAll(`rect.${which}`)].map(
    (r) => ({x: number(r, 'x'), y: number(r, 'y'), w: number(r, 'width'), h: number(r, 'height')}));
  const lines = (svg, which) => [...svg.querySelectorAll(`line.${which}`)].map((l) => ({x: number(l, 'x1'), y: number(l, 'y1')}));
  const circles = (svg, which) => [...svg.querySelectorAll(`circle.${which}`)].map(
    (c) => ({x: number(c, 'cx'), y: number(c, 'cy'), r: number(c, 'r')}));
  const all = (selector, read) => [...document.querySelectorAll(`${selector} svg`)].map(read);
  return {
    cuts: [...document.querySelectorAll('.pair')].map((pair) => [...pair.querySelectorAll('svg')].map((svg) => ({
      ticks: ticks(svg, '.axis', 'y1'), joists: rects(svg, 'joist'), ceiling: rects(svg, 'ceiling'), layers: rects(svg, 'layer'),
      fresh: rects(svg, 'new'), average: lines(svg, 'average'), high: lines(svg, 'level-high'), low: lines(svg, 'level-low'),
    }))),
    depths: all('.depths', (svg) => ({
      ticks: ticks(svg, '.axis', 'x1'), readings: circles(svg, 'reading'), mean: lines(svg, 'mark-mean'), joist: lines(svg, 'mark-joist'),
      high: lines(svg, 'mark-high'), low: lines(svg, 'mark-low'),
    })),
    losses: all('.losses', (svg) => ({
      ticks: ticks(svg, '.axis', 'x1'), bars: rects(svg, 'bar'), working: rects(svg, 'bar-working'), effective: rects(svg, 'bar-effective'),
    })),
    steps: all('.next-steps', (svg) => ({
      cost: ticks(svg, '.cost-axis', 'x1'), saving: ticks(svg, '.saving-axis', 'y1'), points: circles(svg, 'point'),
    })),
  };
}

const kPrinted = 0.005;  // half the last decimal of a coordinate

/** The numbers that positions stand for, from the ticks of an axis; every tick must lie on the same line. */
class Axis {
  constructor(ticks, fault) {
    const [first, last] = [ticks[0], ticks[ticks.length - 1]];
    this.unit = (last[1] - first[1]) / (last[0] - first[0]);
    this.zero = first[1] - first[0] * this.unit;
    this.slack = (4 * kPrinted) / Math.abs(this.unit);
    for (const [value, at] of ticks)
      if (Math.abs(this.zero + value * this.unit - at) > 3 * kPrinted) fault(`tick ${value} at ${at} is off its axis`);
  }
  value(at) { return (at - this.zero) / this.unit; }
  length(drawn) { return Math.abs(drawn / this.unit); }
}

class Checker {
  constructor(name, fault) { this.name = name; this.fault = (what) => fault(`${name}: ${what}`); this.count = 0; }
  same(what, drawn, wanted, slack) {
    this.count += 1;
    if (!(Math.abs(drawn - wanted) <= slack)) this.fault(`${what} is drawn as ${drawn}, the JSON says ${wanted}`);
  }
  many(what, drawn, wanted) {
    this.count += 1;
    if (drawn.length !== wanted) this.fault(`${drawn.length} of ${what} are drawn, not ${wanted}`);
    return drawn.length === wanted;
  }
}

/** Heights from and to of each layer of one bay, by the rule of the method: what lies across lies on the joist tops. */
function stack(cut, spot, after) {
  const out = [];
  let top = 0;
  spot.layers_in.forEach((thick, i) => {
    const layer = cut.layers[i];
    if ((after && layer.comes_out) || !(thick > 0)) return;
    if (layer.lies === 'across') top = Math.max(top, cut.joist_depth_in);
    out.push([top, top + thick]);
    top += thick;
  });
  return out;
}

function checkBlocks(c, axis, what, rects, wanted, unit) {
  if (!c.many(what, rects, wanted.length)) return;
  rects.forEach((r, i) => {
    c.same(`${what} ${i}, upper edge`, axis.value(r.y), wanted[i][1] * unit, axis.slack);
    c.same(`${what} ${i}, height`, axis.length(r.h), (wanted[i][1] - wanted[i][0]) * unit, axis.slack);
  });
}

function checkCut(c, drawn, section, unit) {
  const cut = section.cut;
  drawn.forEach((d, index) => {
    const after = index === 1;
    const axis = new Axis(d.ticks, c.fault);
    if (c.many('joists', d.joists, 3)) {
      d.joists.forEach((j) => {
        c.same('joist depth', axis.length(j.h), cut.joist_depth_in * unit, axis.slack);
        c.same('joist width, in the scale of the depth', axis.length(j.w), cut.joist_width_in * unit, axis.slack);
      });
      c.same('spacing', axis.length(d.joists[1].x - d.joists[0].x), cut.spacing_in * unit, axis.slack);
    }
    c.same('ceiling', axis.length(d.ceiling[0].h), (cut.ceiling_thickness_in ?? 0.5) * unit, axis.slack);
    checkBlocks(c, axis, 'layers', d.layers, [...stack(cut, cut.least, after), ...stack(cut, cut.greatest, after)], unit);
    // What is not loose and lies between the joists stays between them, however high it stands.
    if (cut.layers.every((l) => l.lies === 'between' && !l.loose))
      d.layers.forEach((r) => c.same('width of a batt', axis.length(r.w), (cut.spacing_in - cut.joist_width_in) * unit, axis.slack));
    if (!after) {
      if (cut.greatest.reading_in > cut.least.reading_in)
        c.same('average', axis.value(d.average[0].y), section.existing.mean_depth_in * unit, axis.slack);
      return;
    }
    const fresh = [cut.least, cut.greatest].filter((s) => s.new_high_in > 0).map((s) => [s.stays_in, s.stays_in + s.new_high_in]);
    checkBlocks(c, axis, 'new fill', d.fresh, fresh, unit);
    const {low, high} = section.top_up;
    if (high.initial_level_in !== null) c.same('high level', axis.value(d.high[0].y), high.initial_level_in * unit, axis.slack);
    if (low.initial_level_in !== null && low.initial_level_in !== high.initial_level_in)
      c.same('low level', axis.value(d.low[0].y), low.initial_level_in * unit, axis.slack);
  });
}

function checkDepths(c, drawn, section, unit) {
  const axis = new Axis(drawn.ticks, c.fault);
  if (c.many('readings', drawn.readings, section.cut.depths.length))
    section.cut.depths.forEach(([depth, share], i) => {
      c.same('reading', axis.value(drawn.readings[i].x), depth * unit, axis.slack);
      c.same('size of a dot', drawn.readings[i].r, 3 + 14.4 * Math.sqrt(share), 2 * kPrinted);
    });
  c.same('average', axis.value(drawn.mean[0].x), section.existing.mean_depth_in * unit, axis.slack);
  c.same('joist top', axis.value(drawn.joist[0].x), section.cut.joist_depth_in * unit, axis.slack);
  for (const end of ['low', 'high'])
    if (drawn[end].length > 0) c.same(`${end} level`, axis.value(drawn[end][0].x), section.top_up[end].initial_level_in * unit, axis.slack);
}

function checkLosses(c, drawn, section, unit) {
  const axis = new Axis(drawn.ticks, c.fault);
  const steps = section.existing.steps;
  // Steps that change nothing that is shown are left out: each bar must be one of the steps, in order, and all greater ones are there.
  let at = 0;
  for (const bar of drawn.bars) {
    const [from, to] = [axis.value(bar.x), axis.value(bar.x + bar.w)];
    const holds = (i) => {
      const before = i === 0 ? 0 : steps[i - 1].r_after * unit, after = steps[i].r_after * unit;
      const thin = 1 / Math.abs(axis.unit);  // no bar is thinner than one unit of the drawing
      return Math.abs(from - Math.min(before, after)) <= axis.slack && Math.abs(to - Math.max(before, after)) <= axis.slack + thin;
    };
    while (at < steps.length && !holds(at)) at += 1;
    c.same('bar found among the steps', at < steps.length ? 0 : 1, 0, 0.5);
    at += 1;
  }
  const great = steps.filter((s, i) => i === 0 || Math.abs(s.change_r) > 0.2).length;
  if (drawn.bars.length < great) c.fault(`${drawn.bars.length} bars for ${great} steps that change R by more than 0.2`);
  c.same('working R', axis.length(drawn.working[0].w), section.existing.working_r * unit, axis.slack + 1 / Math.abs(axis.unit));
  c.same('effective R', axis.length(drawn.effective[0].w), section.existing.effective_r * unit, axis.slack);
}

function checkSteps(c, drawn, result) {
  const steps = result.totals.steps.slice(1);
  const cost = new Axis(drawn.cost, c.fault), saving = new Axis(drawn.saving, c.fault);
  if (c.many('steps', drawn.points, steps.length))
    steps.forEach((step, i) => {
      c.same('cost so far', cost.value(drawn.points[i].x), step.cost_so_far, cost.slack);
      c.same('saving so far', saving.value(drawn.points[i].y), step.annual_saving_so_far, saving.slack);
    });
}

/** @param unit  drawing's unit of length in inches' stead: 1 for US, 2.54 for SI; R likewise by `rUnit` */
export function checkGeometry(name, drawings, result, fault, unit = 1, rUnit = 1) {
  const c = new Checker(name, fault);
  const floors = result.sections.filter((s) => s.cut !== null).sort((a, b) => b.area_ft2 - a.area_ft2);
  if (c.many('cuts', drawings.cuts, floors.length)) floors.forEach((s, i) => checkCut(c, drawings.cuts[i], s, unit));
  const read = floors.filter((s) => s.cut.depths.length > 0);
  if (c.many('strips of readings', drawings.depths, read.length)) read.forEach((s, i) => checkDepths(c, drawings.depths[i], s, unit));
  const layered = floors.filter((s) => s.existing.steps.length > 2);
  if (c.many('ways of R', drawings.losses, layered.length)) layered.forEach((s, i) => checkLosses(c, drawings.losses[i], s, rUnit));
  const steps = (result.totals.steps ?? []).slice(1);
  const priced = steps.length > 0 && steps.every((s) => s.cost_so_far > 0 && s.annual_saving_so_far > 0);
  if (c.many('charts of next steps', drawings.steps, priced ? 1 : 0) && priced) checkSteps(c, drawings.steps[0], result);
  return c.count;
}
