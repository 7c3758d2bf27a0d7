// SPDX-License-Identifier: MIT
// A survey whose texts try to be more than text, as long as the reader takes them.

const script = '<script>alert(1)</script>';
const breakout = `"><img src=x onerror=alert(1)> '; & </title></style></svg>${script}`;
const hebrew = '\u05E2\u05DC\u05D9\u05D9\u05EA \u05D2\u05D2 12';
const arabic = '\u0633\u0637\u062D \u0627\u0644\u0628\u064A\u062A';
const emoji = '\u{1F3E0}\u{1F9F1}\u{1F468}\u{200D}\u{1F469}\u{200D}\u{1F467}';
const unbroken = (length) => 'W'.repeat(length);

/** A name longer than the reader takes: put into the page by the test, for the layout alone. */
export const longest = unbroken(300);

export function hostileSurvey() {
  return {
    format: 'overjoist-survey', version: 1, id: `../../${script}`, label: `${breakout} ${hebrew} ${emoji}`,
    surveyed: {by: `${arabic} ${script}`, date: '2026-05-01'},
    site: {climate_zone: '5', year_built: 1950},
    sections: [
      {name: `${script} ${hebrew}`, kind: 'flat', area_ft2: 800, below: 'heated', ceiling: 'gypsum-1/2', joists: {size: '2x6', spacing_in: 16},
        layers: [{material: 'cellulose-loose'}], readings: [2, 3, 4, 5],
        patches: [{kind: 'other', area_ft2: 2, where: breakout}],
        bypasses: [{kind: 'open-chase', where: unbroken(200), length_ft: 3, width_in: 14}, {kind: 'plumbing-stack', where: `${arabic} 7`, count: 1}]},
      {name: unbroken(120), kind: 'flat', area_ft2: 300, below: 'heated', layers: [{material: 'glass-fiber-batt', label_r: 19, label_thickness_in: 6.25}], readings: [3, 6]},
      {name: `hatch ${emoji}`, kind: 'hatch', area_ft2: 5, below: 'heated', insulation_r: 0},
    ],
    hazards: [{kind: 'knob-and-tube', where: breakout}, {kind: 'flue', where: hebrew}, {kind: 'moisture', where: 'north', cleared: {by: script, date: '2026-01-05', paper: breakout}}],
    proposal: {material: 'cellulose-loose', name: script, bag_net_lb: 25, price_per_bag: 15, currency: '<b>$</b>', labour: {price_per_ft2: 0.5},
      extras: [{what: `${script} ${emoji}`, price: 10}, {what: unbroken(200), price: 20}]},
    compare: [{material: 'rock-wool-loose', name: breakout.slice(0, 110)}],
    heating: {fuel: 'natural-gas', efficiency: 0.8, price_per_unit: 1.2, hdd_f_day: 6000, base_f: 65},
    claims: [{kind: 'existing_r', r: 10, where: `${script} ${hebrew}`, said_by: breakout}],
    x_own: script,
  };
}

/** Texts that must be read on the page just as they were written, but for the joiner of the family: what has no width is shown by its code. */
export function hostileTexts(page) {
  const everywhere = [`${breakout} ${hebrew} ${emoji}`, unbroken(200), breakout];
  const texts = page === 'hostile' ? [...everywhere, `${script} ${hebrew}`, `${arabic} ${script}`, `hatch ${emoji}`, '<b>$</b>'] : everywhere;
  return texts.map((text) => text.replaceAll('\u200D', '\\u{200D}'));
}
