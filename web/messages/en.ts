/**
 * English text that more than one room shows; each room's own stands beside, in `en-<room>.ts`, and is fetched with it.
 * A sentence is written whole, never put together from pieces, so that another language can order its words as it
 * needs. The server writes its own sentences for problems and findings.
 */
import type {
  Basis,
  DecisionRule,
  ExclusionCause,
  Material,
  MeniscusRule,
  VesselKind,
  WaterGrade,
} from '../../server/metrology/record.ts';
import type { Verdict } from '../../server/metrology/result.ts';

const rules = new Intl.PluralRules('en');
/** The form for this count: `plural(1, {one: '1 trial', other: …})`. */
export const plural = (count: number, forms: { one: string; other: string }): string =>
  rules.select(count) === 'one' ? forms.one : forms.other;

const vesselKinds: Record<VesselKind, string> = {
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

const materials: Record<Material, string> = {
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

const verdicts: Record<Verdict, string> = {
  pass: 'pass',
  'conditional-pass': 'conditional pass',
  'conditional-fail': 'conditional fail',
  fail: 'fail',
  'not-decidable': 'not decidable',
  'none-stated': 'none stated',
};

const waterGrades: Record<WaterGrade, string> = {
  'grade-1': 'ISO 3696 grade 1',
  'grade-2': 'ISO 3696 grade 2',
  'grade-3': 'ISO 3696 grade 3',
  distilled: 'distilled',
  deionised: 'deionised',
  tap: 'tap water',
  'not-stated': 'not stated',
};

const exclusionCauses: Record<ExclusionCause, string> = {
  spill: 'water was spilt',
  'drop-left': 'a drop was left outside or inside',
  'wrong-mark': 'filled to the wrong mark',
  'door-open': 'draught or open door of the balance',
  typing: 'typed wrongly, and the true reading is lost',
  other: 'something else',
};

export const text = {
  words: {
    vesselKinds,
    materials,
    verdicts,
    waterGrades,
    exclusionCauses,
    origins: { sheet: 'typed from a recording sheet', paper: 'taken over from paper' },
    bases: { contain: 'to contain (In)', deliver: 'to deliver (Ex)' } satisfies Record<Basis, string>,
    basesShort: { contain: 'In', deliver: 'Ex' } satisfies Record<Basis, string>,
    decisionRules: {
      guarded: 'guarded: a pass needs the whole uncertainty inside the tolerance',
      simple: 'simple: the value alone decides, where the uncertainty is at most a third of the tolerance',
    } satisfies Record<DecisionRule, string>,
    meniscusRules: {
      'upper-edge': 'lowest point of the meniscus on the upper edge of the mark',
      centre: 'lowest point of the meniscus in the middle of the mark',
    } satisfies Record<MeniscusRule, string>,
    states: {
      open: 'open',
      measured: 'measured',
      checked: 'checked',
      issued: 'issued',
      abandoned: 'abandoned',
    },
    instrumentKinds: {
      balance: 'balance',
      thermometer: 'thermometer',
      barometer: 'barometer',
      hygrometer: 'hygrometer',
    },
    yes: 'yes',
    no: 'no',
    notKnown: 'not known',
    none: 'none',
  },
  api: {
    unreachable: 'The server cannot be reached. What you typed is still here. Look at the network, then try again.',
    unreadableAnswer: (status: number) => `The server answered with status ${status} and no explanation.`,
    refused: 'The server refused this',
  },
  shell: {
    name: 'Tarebook',
    title: (page: string) => `${page} · Tarebook`,
    skip: 'Skip to the content',
    navigation: 'Rooms',
    menu: 'Menu',
    page: 'the page',
    loading: (what: string) => `Loading ${what} …`,
    rooms: {
      today: 'Today',
      glassware: 'Glassware',
      bench: 'Bench',
      instruments: 'Instruments',
      class: 'Class',
      solutions: 'Solutions',
      records: 'Records',
      reference: 'Reference',
      settings: 'Settings',
    },
    goOn: (tag: string, recorded: number, planned: number) =>
      `Go on with the calibration of ${tag}, ${recorded} of ${plural(planned, { one: '1 trial', other: `${planned} trials` })} recorded`,
    progress: (recorded: number, planned: number) => `${recorded} of ${planned}`,
    goOnMany: (count: number) => `${count} open calibrations`,
    goOnManyShort: (count: number) => `${count} open`,
    unsent: (count: number) => plural(count, { one: '1 reading not sent', other: `${count} readings not sent` }),
    unsentShort: (count: number) => `${count} not sent`,
    sendNow: 'Send them now',
    demonstration: 'Demonstration logbook: every vessel, reading and person in it is invented.',
    journalFault: (fault: string) =>
      `The journal is not whole. ${fault} Tell whoever keeps the logbook; a backup or an export from before shows what it was.`,
    plainHttp: 'Plain http: passphrases and readings travel unencrypted in this network.',
    signedIn: (name: string) => `Signed in as ${name}: my access, sign out`,
    crashedTitle: 'This page stopped working',
    crashedWhat: 'Readings you typed are kept in this browser. Load the page again to go on.',
    reload: 'Load again',
    failedTitle: 'This could not be loaded',
    tryAgain: 'Try again',
    notFoundTitle: 'There is no such page',
    notFoundWhat: 'The address may be mistyped, or the thing it names belongs to another logbook.',
    notYours: 'This page changes the register or the record',
    notYoursWhat: 'A technician or a keeper does that. You can read everything it leads to.',
    back: 'Back',
    toToday: 'Go to Today',
  },
  vesselChoice: {
    label: 'Which one? The tag on it says',
    unknown: 'not known',
    missing: 'Choose the tag, or say that it is not known.',
  },
  form: {
    optional: 'optional',
    summaryTitle: 'Some fields need another look',
    questionTitle: 'Is this really meant?',
    refusedTitle: 'This was not saved',
    choose: 'Choose …',
    reallySo: 'Yes, it is really so',
    confirmNote: 'Why it is so',
    confirmNoteHelp: 'Kept with the record, for whoever wonders later.',
    changeSign: (label: string) => `Change the sign of: ${label}`,
    save: 'Save',
    cancel: 'Cancel',
    close: 'Close',
    saving: 'Saving …',
    reason: 'Reason',
    reasonHelp: 'A few words. They stay in the record.',
  },
  number: {
    empty: 'Type a number.',
    bothMarks: (typed: string) =>
      `“${typed}” has a comma and a point. Type one decimal mark and no grouping: which of the two is it?`,
    twoMarks: (typed: string) =>
      `“${typed}” has more than one decimal mark. Type the number with one, without grouping.`,
    letters: (typed: string) => `“${typed}” holds more than a number. Type digits and one decimal mark only.`,
    exponent: (typed: string) => `“${typed}” is written with an exponent. Type the number out in digits.`,
    grouped: (typed: string) => `“${typed}” has spaces between its digits. Type the number without grouping.`,
    tooLong: 'That is more digits than any instrument shows.',
    unstable: 'The balance marked this reading as not settled. Wait until it settles, then take it again.',
    overload: 'The balance sent an error instead of a reading. Look at its display, then weigh again.',
    converted: (typed: string, unit: string) => `Converted from ${typed} ${unit}.`,
    unitRefused: (unit: string, wanted: string) =>
      `The balance shows ${unit}. Switch it to ${wanted} and weigh again: a conversion would not keep the digits shown.`,
    unitWrong: (unit: string, wanted: string) => `This came in ${unit}, but the field takes ${wanted}.`,
  },
  caution: {
    label: 'Caution',
    ownRules: 'Your laboratory’s own rules come first.',
  },
  time: {
    now: 'just now',
    minutes: (count: number) => `${count} min ago`,
    hours: (count: number) => plural(count, { one: '1 hour ago', other: `${count} hours ago` }),
    days: (count: number) => plural(count, { one: '1 day ago', other: `${count} days ago` }),
  },
  unsent: {
    waitsFor: (name: string) => `It waits for ${name}, who typed it, to sign in here again.`,
    title: 'Readings the server does not have yet',
    what: 'They are kept in this browser and sent by themselves as soon as the server answers. Each is recorded once, however often it is sent.',
    entry: (tag: string, empty: string, filled: string) => `${tag}: empty ${empty} g, filled ${filled} g`,
    recordedElsewhere:
      'Another tab has recorded this entry with other values. Look at the trials, then change this one or take it out.',
    saveAsFile: 'Save as a file',
    fileName: 'tarebook-unsent-readings',
  },
  strip: {
    label: 'Tolerance strip',
    noTrials: 'No trial yet.',
    notYet: 'no verdict yet',
    soFar: 'so far',
    k: (k: string) => `k = ${k}`,
    mean: (mean: string, bias: string) => `Mean ${mean} mL, bias ${bias} mL`,
    uncertainty: (u: string, k: string) => `U ${u} mL (k = ${k})`,
    tolerance: (t: string) => `tolerance ±${t} mL`,
    noTolerance: 'no tolerance stated',
    excluded: (count: number) => plural(count, { one: '1 trial excluded', other: `${count} trials excluded` }),
    sentence: (parts: string[], verdict: string | null) =>
      verdict === null ? `${parts.join(', ')}.` : `${parts.join(', ')}: ${verdict}.`,
  },
};

export type Text = typeof text;
