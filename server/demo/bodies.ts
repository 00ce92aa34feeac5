/** What a row of the demonstration's tables says as the body of a request. */
import type { Row } from './rows.ts';

type Body = Record<string, unknown>;

/** The named cells of a row that are not empty. */
const filled = (row: Row, names: readonly string[]): Body =>
  Object.fromEntries(names.filter((name) => (row[name] ?? '') !== '').map((name) => [name, row[name]]));

export const listed = (text: string | undefined): string[] => (text ?? '').split(';').filter((part) => part !== '');

const named = (name: string, value: unknown[]): Body => (value.length === 0 ? {} : { [name]: value });

const MARKS_OF_A_VESSEL = [
  'tag',
  'kind',
  'nominalVolumeMl',
  'basis',
  'material',
  'referenceTemperatureC',
  'divisionMl',
];

export const vesselBodyOf = (row: Row): Body => {
  const tolerance = filled(row, ['standard', 'edition', 'class', 'markedMl', 'markedPercent']);
  return {
    ...filled(row, [...MARKS_OF_A_VESSEL, 'maker', 'location', 'acquiredOn', 'note']),
    ...named('marks', listed(row['marks'])),
    ...(Object.keys(tolerance).length === 0 ? {} : { tolerance }),
  };
};

/** A delivery whose pieces are numbered by a pattern. */
export const lotBodyOf = (row: Row): Body => ({
  ...filled(row, ['name', 'receivedOn', 'supplier', 'maker', 'note']),
  ware: {
    ...filled(row, ['kind', 'nominalVolumeMl', 'basis', 'material', 'referenceTemperatureC', 'location']),
    tolerance: filled(row, ['standard', 'edition', 'class']),
    intervalMonths: Number(row['intervalMonths']),
  },
  numbering: { pattern: row['pattern'], first: Number(row['first']), count: Number(row['count']) },
});

const REGISTER = ['kind', 'tag', 'model', 'serial', 'location', 'certificateNumber', 'certificateOn', 'dueOn', 'note'];
const FACTS = [
  'resolutionG',
  'repeatabilityG',
  'linearityG',
  'capacityG',
  'resolutionC',
  'gradientC',
  'coverageFactor',
];
const UNCERTAINTIES = ['G', 'Relative', 'C', 'Hpa', 'Percent'].map((unit) => `expandedUncertainty${unit}`);

export const instrumentBodyOf = (row: Row): Body => ({
  ...filled(row, [...REGISTER, ...FACTS, ...UNCERTAINTIES]),
  ...named('certificateCovers', listed(row['certificateCovers'])),
  ...named(
    'corrections',
    listed(row['corrections']).map((pair) => {
      const [at, correction] = pair.split(':');
      return { at, correction };
    }),
  ),
});

const AIR = ['airTemperatureC', 'airPressureHpa', 'relativeHumidityPercent'];
const CONDITIONS = [
  ...AIR,
  'waterGrade',
  'conductivityUsPerCm',
  'evaporationMgPerMin',
  'acclimatisedH',
  'meniscusRule',
];
const INSTRUMENTS = ['balance', 'thermometer', 'airThermometer', 'barometer', 'hygrometer'];

/** @param instrumentId of an instrument by its tag */
export const calibrationBodyOf = (row: Row, instrumentId: (tag: string) => string): Body => {
  const answered = ['adjustedToday', 'dried', 'cleaned', 'inspected'].filter((question) => row[question] === 'true');
  const used = INSTRUMENTS.filter((role) => (row[role] ?? '') !== '');
  return {
    ...filled(row, ['basis', 'performedOn', 'decisionRule', 'note']),
    points: listed(row['points']),
    plannedTrials: Number(row['plannedTrials']),
    conditions: { ...filled(row, CONDITIONS), ...Object.fromEntries(answered.map((question) => [question, true])) },
    instruments: Object.fromEntries(used.map((role) => [`${role}Id`, instrumentId(row[role] ?? '')])),
  };
};

const READINGS = ['pointMl', 'emptyG', 'filledG', 'waterTemperatureC', 'waterTemperatureHalfWidthC'];
const TIMES = ['deliveryTimeS', 'waitingTimeS', 'openTimeS'];

export const trialBodyOf = (row: Row): Body => ({
  ...filled(row, [...READINGS, ...TIMES, 'emptySource', 'emptyState', 'note']),
  ...(row['emptyOf'] ? { emptyOf: Number(row['emptyOf']) } : {}),
  ...named('confirm', listed(row['confirm'])),
});

/** What was decided about a delivery or a vessel of it, with the sample that was drawn. */
export const decisionBodyOf = (row: Row): Body => {
  const sample = ['sampleSize', 'acceptAtMost', 'good', 'limiting'].filter((name) => (row[name] ?? '') !== '');
  return {
    ...filled(row, ['decision', 'class', 'reason']),
    ...(sample.length === 0 ? {} : { plan: Object.fromEntries(sample.map((name) => [name, Number(row[name])])) }),
  };
};

/** Body of an act on a calibration or a trial. */
export const actBodyOf = (row: Row): Body => {
  if (row['act'] === 'conditions') {
    const values = listed(row['value']);
    return Object.fromEntries(listed(row['field']).map((field, index) => [field, values[index]]));
  }
  return filled(row, ['cause', 'field', 'value', 'reason']);
};

/** Body of a change of a vessel: one field, and why. */
export const vesselChangeOf = (row: Row): Body => {
  const { field = '', value = '', reason } = row;
  const [standard, edition, grade] = listed(value);
  const values: Record<string, unknown> = {
    tolerance: { standard, edition, class: grade },
    inUse: value === 'true',
  };
  return { [field]: values[field] ?? value, reason };
};
