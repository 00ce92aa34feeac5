import type { Component, Part } from './component.ts';
import { rectangular } from './component.ts';
import { finding } from './findings.ts';
import type { MeniscusRule } from './record.ts';
import { neckMlPerMm } from './reading-mark.ts';
import type { ReadingMark } from './reading-mark.ts';
import type { Finding } from './result.ts';
import { DEFAULTS } from './uncertainty-defaults.ts';

interface Setting {
  unit: string;
  parts: Part[];
  sensitivity: number;
  source: string;
  assumed: boolean;
}

const SQRT2 = Math.sqrt(2);

function ringSetting(mark: ReadingMark, diameterMm: number): Setting {
  const assumed = mark.diameterSource === 'next ISO 1042 size' || mark.diameterSource === 'usual bore';
  return {
    unit: 'mm',
    parts: [rectangular(DEFAULTS.ringMarkMm.value)],
    sensitivity: neckMlPerMm(diameterMm),
    source: `ring mark, ${diameterMm} mm inside (${mark.diameterSource})`,
    assumed,
  };
}

/** A scale read once to contain, twice to deliver. */
function scaleSetting(mark: ReadingMark, divisionMl: number): Setting {
  const settings = mark.basis === 'deliver' ? SQRT2 : 1;
  return {
    unit: 'mL',
    parts: [rectangular(DEFAULTS.divisionShare.value * divisionMl * settings)],
    sensitivity: 1,
    source: mark.basis === 'deliver' ? 'two settings of the scale' : 'scale',
    assumed: false,
  };
}

function broadHalfWidthMl(mark: ReadingMark): number | null {
  if (mark.diameterMm === null && mark.divisionMl === null) return null;
  const height = mark.diameterMm === null ? 0 : neckMlPerMm(mark.diameterMm) * DEFAULTS.broadMarkMm.value;
  return Math.max(height, DEFAULTS.broadDivisionShare.value * (mark.divisionMl ?? 0));
}

function unknownSetting(toleranceMl: number | null, findings: Finding[]): Setting {
  if (toleranceMl === null) {
    const detail = 'Neither diameter nor division nor tolerance is known: setting the meniscus counts as exact.';
    findings.push(finding('meniscus-unknown', detail));
    return { unit: 'mL', parts: [], sensitivity: 1, source: 'not known', assumed: true };
  }
  const halfWidth = DEFAULTS.unknownMarkShare.value * toleranceMl;
  const detail = `Neither diameter nor division is known: a tenth of the tolerance, ${halfWidth} mL, was assumed.`;
  findings.push(finding('meniscus-assumed', detail));
  return {
    unit: 'mL',
    parts: [rectangular(halfWidth)],
    sensitivity: 1,
    source: 'a tenth of the tolerance',
    assumed: true,
  };
}

function settingOf(mark: ReadingMark, toleranceMl: number | null, findings: Finding[]): Setting {
  if (mark.style === 'none') {
    return { unit: 'mL', parts: [], sensitivity: 1, source: 'no meniscus to set', assumed: false };
  }
  if (mark.style === 'ring' && mark.diameterMm !== null) {
    if (mark.diameterSource === 'next ISO 1042 size') {
      const detail = `The neck is not known; ${mark.diameterMm} mm was taken from the next size of ISO 1042.`;
      findings.push(finding('neck-assumed', detail));
    }
    return ringSetting(mark, mark.diameterMm);
  }
  if (mark.style === 'scale' && mark.divisionMl !== null) return scaleSetting(mark, mark.divisionMl);
  const broad = mark.style === 'broad' ? broadHalfWidthMl(mark) : null;
  if (broad !== null) {
    return { unit: 'mL', parts: [rectangular(broad)], sensitivity: 1, source: 'printed mark', assumed: false };
  }
  return unknownSetting(toleranceMl, findings);
}

/**
 * The part of setting the meniscus that all trials share: the same eye, the same line.
 * Ring mark π/4·d²·0.05 mm, scale a tenth of a division (√2 times that to deliver), printed mark the larger of
 * π/4·d²·1 mm and a quarter of a division, each a half-width.
 * @source common-practice, half-widths of setting; the rule (upper edge or centre of the line) is ISO 384's
 */
export function meniscusComponent(
  mark: ReadingMark,
  toleranceMl: number | null,
  rule: MeniscusRule | null,
  findings: Finding[],
): Component {
  const setting = settingOf(mark, toleranceMl, findings);
  const words = rule === 'upper-edge' ? ', upper edge of the line' : rule === 'centre' ? ', centre of the line' : '';
  return {
    component: 'meniscus',
    value: null,
    unit: setting.unit,
    parts: setting.parts,
    sensitivity: setting.sensitivity,
    degreesOfFreedom: null,
    source: setting.source + words,
    assumed: setting.assumed,
  };
}

/**
 * Spread of setting the meniscus from one trial to the next, mL, where no trials are there to show it.
 * Ring mark π/4·d²·0.1 mm, scale 0.15 division, printed mark the larger of π/4·d²·1 mm and half a division; a tenth
 * of the tolerance where nothing is known.
 * @source common-practice, spreads of careful work
 */
export function settingSpreadMl(mark: ReadingMark, toleranceMl: number | null): number {
  const { style, diameterMm, divisionMl } = mark;
  if (style === 'none') return 0;
  if (style === 'ring' && diameterMm !== null) return neckMlPerMm(diameterMm) * DEFAULTS.spreadRingMarkMm.value;
  if (style === 'scale' && divisionMl !== null) return DEFAULTS.spreadDivisions.value * divisionMl;
  if (style === 'broad' && (diameterMm !== null || divisionMl !== null)) {
    const height = diameterMm === null ? 0 : neckMlPerMm(diameterMm) * DEFAULTS.broadMarkMm.value;
    return Math.max(height, DEFAULTS.spreadBroadDivisions.value * (divisionMl ?? 0));
  }
  return DEFAULTS.unknownMarkShare.value * (toleranceMl ?? 0);
}
