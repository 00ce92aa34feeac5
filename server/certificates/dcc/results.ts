/** What was measured, as elements: method, conditions, instruments, figures, verdicts, readings as typed. */
import { sameDecimal } from '../../metrology/decimal.ts';
import { decimalsFor, roundedResult, roundedText } from '../../metrology/display.ts';
import type { PointResult, Verdict } from '../../metrology/result.ts';
import { printsVerdict } from '../../tolerances/view-basis.ts';
import type { Issued, IssuedInstrument } from '../issued.ts';
import {
  basisStatement,
  conditionsOf,
  deviations,
  methodStatements,
  OF_THE_MEAN,
  plainNumber,
  printedVerdict,
  verdictRemarks,
  verdictStatement,
  waterWords,
} from '../statements.ts';
import { trialNotes } from '../trial-notes.ts';
import { roleWords, ruleWords, verdictWords } from '../words.ts';
import { budgetResults } from './budget.ts';
import { quantity, real, realList, text, token, type Element } from './element.ts';

const CONFORMITY: Partial<Record<Verdict, string>> = {
  pass: 'pass',
  'conditional-pass': 'conditionalPass',
  'conditional-fail': 'conditionalFail',
  fail: 'fail',
};

/** @returns content of `dcc:measurementResults` */
export const measurementResults = (issued: Issued): Element => ({
  ...(issued.instruments.length === 0 ? {} : { 'dcc:measuringEquipments': equipments(issued) }),
  'dcc:measurementResult': {
    '@id': 'calibration',
    '@refId': 'item',
    'dcc:name': text(`Calibration of ${issued.vessel.tag}`),
    'dcc:usedMethods': {
      'dcc:usedMethod': {
        '@id': 'method',
        'dcc:name': text('Gravimetric determination of volume'),
        'dcc:description': text(methodStatements(issued).join('\n')),
        'dcc:norm': ['ISO 4787', 'JCGM 100:2008'],
      },
    },
    'dcc:influenceConditions': { 'dcc:influenceCondition': conditions(issued) },
    'dcc:results': {
      'dcc:result': [
        ...issued.result.points.map((point, at) => pointResult(issued, point, at)),
        ...rest(issued),
        ...budgetResults(issued),
      ],
    },
    'dcc:measurementMetaData': { 'dcc:metaData': metaData(issued) },
  },
});

const equipments = ({ instruments }: Issued): Element => ({
  'dcc:measuringEquipment': instruments.map((one) => ({
    '@id': `instrument-${one.role}`,
    'dcc:name': text(roleWords[one.role]),
    ...(one.certificateNumber === null
      ? { 'dcc:description': text('Traceability: not established.') }
      : { 'dcc:certificate': certificateOf(one, one.certificateNumber) }),
    ...(one.model === null ? {} : { 'dcc:model': token(one.model) }),
    'dcc:identifications': {
      'dcc:identification': [
        { 'dcc:issuer': 'calibrationLaboratory', 'dcc:value': token(one.tag), 'dcc:name': text('Tag') },
        ...(one.serial === null
          ? []
          : [{ 'dcc:issuer': 'manufacturer', 'dcc:value': token(one.serial), 'dcc:name': text('Serial number') }]),
      ],
    },
  })),
});

/** The logbook knows number and day of an instrument's certificate, never its file: there is no hash to give. */
const certificateOf = ({ certificateOn, dueOn }: IssuedInstrument, number: string): Element => ({
  'dcc:referral': text('Calibration certificate'),
  'dcc:referralID': token(number),
  'dcc:procedure': 'none',
  'dcc:value': 'none',
  'dcc:description': text(
    `Certificate of ${certificateOn ?? 'an unstated day'}, due ${dueOn ?? 'on an unstated day'}. No hash of its file is known.`,
  ),
});

const CONDITION_ROLES: Readonly<Record<string, string>> = {
  'Water temperature': 'basic_temperature',
  'Air temperature': 'basic_temperature',
  'Air pressure': 'basic_pressure',
  'Relative humidity': 'basic_humidityRelative',
};

function conditions(issued: Issued): Element[] {
  const measured = conditionsOf(issued).map(({ name, low, high, decimals, unit, how }): Element => {
    const [from, to] = [roundedText(low, decimals), roundedText(high, decimals)];
    return {
      ...(CONDITION_ROLES[name] === undefined ? {} : { '@refType': CONDITION_ROLES[name] }),
      'dcc:name': text(name),
      'dcc:description': text(`Over all trials; ${how}.`),
      'dcc:data': {
        'dcc:quantity':
          from === to
            ? quantity('Value', real(from, unit))
            : [quantity('Lowest value', real(from, unit)), quantity('Highest value', real(to, unit))],
      },
    };
  });
  return [...measured, { 'dcc:name': text('Water'), 'dcc:data': { 'dcc:text': text(waterWords(issued)) } }];
}

function pointResult(issued: Issued, point: PointResult, at: number): Element {
  const name = `Test point ${point.pointMl} mL`;
  const data = { '@id': `point-${at + 1}`, 'dcc:name': text(name), 'dcc:description': text(OF_THE_MEAN) };
  const counts = [
    quantity('Trials counted, n', real(String(point.n), '1')),
    quantity('Trials recorded', real(String(point.nRecorded), '1')),
    ...(issued.record.plannedTrials == null
      ? []
      : [quantity('Trials planned', real(String(issued.record.plannedTrials), '1'))]),
  ];
  const nominal = quantity('Nominal volume', real(point.pointMl, 'mL'), 'basic_nominalValue');
  return { ...data, 'dcc:data': { 'dcc:quantity': [nominal, ...measuredAt(issued, point), ...counts] } };
}

function measuredAt(issued: Issued, point: PointResult): Element[] {
  const { meanMl, biasMl, expandedUncertaintyMl: u, coverageFactor: k, sdMl, singleUseUncertaintyMl } = point;
  if (meanMl === null || biasMl === null)
    return [quantity('Mean volume', { 'dcc:noQuantity': text('No trial counts at this point.') })];
  const known = u !== null && u > 0;
  const decimals = known ? Math.max(0, decimalsFor(u, 2)) : 4;
  const uncertainty =
    known && k !== null
      ? {
          expanded: roundedResult(0, u).uncertainty,
          factor: roundedText(k, 2),
          probability: point.coverageProbability,
        }
      : null;
  const mean = known ? roundedResult(meanMl, u).value : roundedText(meanMl, decimals);
  const verdict = conformity(issued, point);
  return [
    {
      ...quantity('Mean volume', real(mean, 'mL', uncertainty), 'basic_measuredValue'),
      ...(verdict === null ? {} : { 'dcc:measurementMetaData': { 'dcc:metaData': verdict } }),
    },
    quantity('Bias', real(roundedText(biasMl, decimals), 'mL', uncertainty), 'basic_measurementError'),
    ...small('Spread of the trials, s', sdMl),
    ...small('Standard uncertainty of one single use', singleUseUncertaintyMl),
    ...(point.toleranceMl === null || issued.toleranceBasis.kind === 'none'
      ? []
      : [quantity(toleranceName(issued), real(plainNumber(point.toleranceMl), 'mL'))]),
    ...(point.randomError == null || issued.toleranceBasis.kind === 'none'
      ? []
      : [quantity(randomName(issued), real(plainNumber(point.randomError.limitMl), 'mL'))]),
  ];
}

const randomName = ({ toleranceBasis }: Issued): string =>
  printsVerdict(toleranceBasis)
    ? 'Limit of the random error'
    : 'Limit of the random error, not checked against the standard';

const toleranceName = ({ toleranceBasis }: Issued): string =>
  printsVerdict(toleranceBasis) ? 'Tolerance, plus and minus' : 'Tolerance, not checked against the standard';

const small = (name: string, value: number | null): Element[] =>
  value === null
    ? []
    : [quantity(name, real(value === 0 ? '0' : roundedText(value, Math.max(0, decimalsFor(value, 2))), 'mL'))];

/** The verdict of a point or of all, and the rule that made it; null where none may be printed. */
function conformity(
  issued: Issued,
  { verdict: reached }: { verdict: Verdict | null },
  description: readonly string[] = [],
): Element | null {
  const verdict = printedVerdict(issued, reached);
  if (verdict === null) return null;
  const words = ruleWords[issued.result.decisionRule];
  const said = CONFORMITY[verdict];
  return {
    '@refType': 'basic_conformity',
    'dcc:name': text(`Verdict: ${verdictWords[verdict]}`),
    ...(description.length === 0 ? {} : { 'dcc:description': text(description.join('\n')) }),
    ...(issued.toleranceName === null ? {} : { 'dcc:norm': token(issued.toleranceName) }),
    'dcc:declaration': text(`Decision rule: ${words.name}. ${words.rule} Risk: ${words.risk}`),
    ...(said === undefined ? {} : { 'dcc:conformity': said }),
  };
}

function metaData(issued: Issued): Element[] {
  const verdict = conformity(issued, issued.result, [verdictStatement(issued), ...verdictRemarks(issued)]);
  const statement = (name: string, words: string): Element => ({
    'dcc:name': text(name),
    'dcc:declaration': text(words),
  });
  return [
    verdict ?? statement('No verdict', basisStatement(issued)),
    ...deviations(issued).map((line) => statement('Deviation, assumption or remark', line)),
    ...(issued.note === null || issued.note === '' ? [] : [statement('Note', issued.note)]),
  ];
}

/** The difference between points, and the trials as they were typed. */
function rest(issued: Issued): Element[] {
  const { difference, trials } = issued.result;
  const all: Element[] = [];
  if (difference !== null) {
    const { valueMl, expandedUncertaintyMl: u } = difference;
    const shown = u > 0 ? roundedResult(valueMl, u) : { value: roundedText(valueMl, 4), uncertainty: '0' };
    const verdict = conformity(issued, difference);
    all.push({
      '@id': 'difference',
      'dcc:name': text('Difference between the errors of any two test points'),
      'dcc:data': {
        'dcc:quantity': [
          {
            ...quantity('Largest difference', real(shown.value, 'mL')),
            ...(verdict === null ? {} : { 'dcc:measurementMetaData': { 'dcc:metaData': verdict } }),
          },
          quantity('Expanded uncertainty of the difference', real(shown.uncertainty, 'mL')),
        ],
      },
    });
  }
  if (trials.length > 0) all.push(readings(issued));
  return all;
}

function readings({ result: { trials, points } }: Issued): Element {
  const decimals = (pointMl: string): number => {
    const u = points.find((point) => sameDecimal(point.pointMl, pointMl))?.expandedUncertaintyMl;
    return u ? Math.min(8, Math.max(0, decimalsFor(u, 2)) + 1) : 4;
  };
  const columns = [
    ['Trial', '1', trials.map(({ number }) => String(number))],
    ['Test point', 'mL', trials.map(({ pointMl }) => pointMl)],
    ['Empty reading', 'g', trials.map(({ emptyG }) => emptyG)],
    ['Filled reading', 'g', trials.map(({ filledG }) => filledG)],
    ['Water temperature', '°C', trials.map(({ waterTemperatureC }) => waterTemperatureC)],
    ['Air temperature', '°C', trials.map(({ airTemperatureC }) => airTemperatureC ?? null)],
    ['Air pressure', 'hPa', trials.map(({ airPressureHpa }) => airPressureHpa ?? null)],
    ['Relative humidity', '%', trials.map(({ relativeHumidityPercent }) => relativeHumidityPercent ?? null)],
    ['Delivery time', 's', trials.map(({ deliveryTimeS }) => deliveryTimeS ?? null)],
    ['Waiting time', 's', trials.map(({ waitingTimeS }) => waitingTimeS ?? null)],
    ['Counts: 1 yes, 0 excluded', '1', trials.map(({ exclusion }) => (exclusion == null ? '1' : '0'))],
    ['Volume, computed', 'mL', trials.map(({ volumeMl, pointMl }) => roundedText(volumeMl, decimals(pointMl)))],
  ] as const;
  const notes = trials.flatMap((trial) => trialNotes(trial).map((note) => text(`Trial ${trial.number}. ${note}`)));
  return {
    '@id': 'trials',
    'dcc:name': text('Trials, as typed'),
    'dcc:description': text(
      'Readings with the digits that were typed; corrections of slips and exclusions are told beside them.',
    ),
    'dcc:data': {
      ...(notes.length === 0 ? {} : { 'dcc:text': notes }),
      'dcc:list': {
        'dcc:quantity': columns
          .filter(([, , values]) => values.some((value) => value !== null))
          .map(([name, unit, values]) => quantity(name, realList(values, unit))),
      },
    },
  };
}
