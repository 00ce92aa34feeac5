/**
 * Words of the papers, as the screens use them; a test holds both equal. Paper is English: what is printed must read the
 * same for whoever gets it, whatever language the screen had.
 */
import type {
  Basis,
  DecisionRule,
  EmptySource,
  ExclusionCause,
  Material,
  MeniscusRule,
  VesselKind,
  WaterGrade,
} from '../metrology/record.ts';
import type { Verdict } from '../metrology/result.ts';
import type { IssuedInstrumentRole, SignatureMeaning } from './issued.ts';

export const kindWords: Record<VesselKind, string> = {
  'volumetric-flask': 'volumetric flask',
  'single-volume-pipette': 'single-volume pipette',
  'graduated-pipette': 'graduated pipette',
  burette: 'burette',
  'measuring-cylinder': 'measuring cylinder',
  beaker: 'beaker',
  'conical-flask': 'conical flask',
  pycnometer: 'pycnometer',
  'piston-pipette': 'piston pipette',
  other: 'other ware',
};

export const materialWords: Record<Material, string> = {
  'borosilicate-3.3': 'borosilicate glass 3.3',
  'borosilicate-5.0': 'borosilicate glass 5.0',
  'soda-lime': 'soda-lime glass',
  glass: 'glass, kind not known',
  'fused-silica': 'fused silica',
  'stainless-steel': 'stainless steel',
  polypropylene: 'polypropylene (PP)',
  polymethylpentene: 'polymethylpentene (PMP)',
  polycarbonate: 'polycarbonate (PC)',
  polystyrene: 'polystyrene (PS)',
  polyethylene: 'polyethylene (PE)',
  other: 'another material',
};

export const verdictWords: Record<Verdict, string> = {
  pass: 'pass',
  'conditional-pass': 'conditional pass',
  'conditional-fail': 'conditional fail',
  fail: 'fail',
  'not-decidable': 'not decidable',
  'none-stated': 'none stated',
};

export const waterGradeWords: Record<WaterGrade, string> = {
  'grade-1': 'ISO 3696 grade 1',
  'grade-2': 'ISO 3696 grade 2',
  'grade-3': 'ISO 3696 grade 3',
  distilled: 'distilled',
  deionised: 'deionised',
  tap: 'tap water',
  'not-stated': 'not stated',
};

export const exclusionCauseWords: Record<ExclusionCause, string> = {
  spill: 'water was spilt',
  'drop-left': 'a drop was left outside or inside',
  'wrong-mark': 'filled to the wrong mark',
  'door-open': 'draught or open door of the balance',
  typing: 'typed wrongly, and the true reading is lost',
  other: 'something else',
};

export const basisWords: Record<Basis, string> = { contain: 'to contain (In)', deliver: 'to deliver (Ex)' };

/** Where readings come from that were not typed at the bench. */
export const originWords = { sheet: 'typed from a recording sheet', paper: 'taken over from paper' } as const;

export const meniscusRuleWords: Record<MeniscusRule, string> = {
  'upper-edge': 'lowest point of the meniscus on the upper edge of the mark',
  centre: 'lowest point of the meniscus in the middle of the mark',
};

export const componentWords: Record<string, string> = {
  repeatability: 'spread of the trials',
  'balance-resolution': 'last digit of the balance',
  'balance-linearity': 'linearity of the balance',
  'balance-calibration': 'calibration of the balance',
  'balance-drift': 'drift of the balance',
  'water-temperature': 'temperature of the water',
  'water-density': 'density formula of water',
  'water-purity': 'purity of the water',
  'air-temperature': 'temperature of the air',
  'air-pressure': 'pressure of the air',
  'air-humidity': 'humidity of the air',
  'air-density-formula': 'density formula of air',
  'weights-density': 'density of the weights',
  expansion: 'expansion of the vessel',
  'vessel-temperature': 'vessel not as warm as the water',
  meniscus: 'setting of the meniscus',
  evaporation: 'evaporation',
};

export const distributionWords: Record<string, string> = {
  t: 'Student t',
  normal: 'normal',
  rectangular: 'rectangular',
  triangular: 'triangular',
  none: 'none',
};

/** Name of a rule, what it means, and its risk in plain words. */
export const ruleWords: Record<DecisionRule, { name: string; rule: string; risk: string }> = {
  guarded: {
    name: 'guarded acceptance',
    rule:
      'The guard band is the whole expanded uncertainty U. Pass: the bias lies within T − U. Conditional pass: beyond ' +
      'that, but within T. Conditional fail: beyond T by no more than U. Fail: beyond T by more than U. Where U is not ' +
      'smaller than the tolerance T nothing is decided.',
    risk:
      'A vessel that passes is wrong at most about once in forty, at the edge of T − U; nearer the middle far more ' +
      'rarely. A conditional word is given where the measurement cannot tell the two sides of the limit apart with ' +
      'that certainty.',
  },
  simple: {
    name: 'simple acceptance',
    rule:
      'Where U is at most a third of the tolerance T, the value alone decides: pass when the bias lies within T, ' +
      'otherwise fail. Where U is larger, only a bias within T − U passes and only one beyond T + U fails; anything ' +
      'between is not decided.',
    risk: 'A value near the limit can be wrong up to half of the time: a vessel exactly at the limit is passed or failed by chance.',
  },
};

export const roleWords: Record<IssuedInstrumentRole, string> = {
  balance: 'balance',
  thermometer: 'thermometer, water',
  barometer: 'barometer',
  hygrometer: 'hygrometer',
  airThermometer: 'thermometer, air',
};

export const meaningWords: Record<SignatureMeaning, string> = {
  measured: 'Measured',
  checked: 'Checked',
  issued: 'Issued',
};

export const emptySourceWords: Record<EmptySource, string> = {
  own: 'weighed',
  reused: 'taken over',
  carried: 'carried over',
  tared: 'tared',
};

/** What was done to a calibration after it had begun, by the names the journal gives it. */
export const actWords: Record<string, string> = {
  'plan-changed': 'The plan was changed after the calibration had begun',
  'calibration-measured': 'Ended',
  'calibration-reopened': 'Opened again',
  'calibration-amended': 'Opened again to amend an issued certificate',
};

export const fieldWords: Record<string, string> = {
  emptyG: 'empty reading',
  filledG: 'filled reading',
  waterTemperatureC: 'water temperature',
  airTemperatureC: 'air temperature',
  airPressureHpa: 'air pressure',
  relativeHumidityPercent: 'relative humidity',
  deliveryTimeS: 'delivery time',
  waitingTimeS: 'waiting time',
  openTimeS: 'open time',
};
