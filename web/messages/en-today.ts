/** Text of Today: the plan of the term. */
import { plural } from './en.ts';

export const todayText = {
  title: 'Today',
  setUp: 'Anybody at this machine can write in this logbook, without a name.',
  setUpLink: 'Set up people',
  open: 'Go on with',
  lots: 'Deliveries to measure',
  lotLeft: (left: number, all: number) =>
    `${plural(left, { one: '1 vessel', other: `${left} vessels` })} of ${all} to measure`,
  failing: 'Not passing',
  failingWhat: 'Their latest calibration does not pass. Decide what becomes of each, or calibrate it again.',
  decide: 'Decide',
  due: 'Due vessels',
  dueWhat: (until: string) => `Overdue, or due by ${until}.`,
  dueOn: (day: string) => `due ${day}`,
  overdueOn: (day: string) => `overdue since ${day}`,
  dueAll: (count: number) => `All ${count} that are due`,
  noInterval: 'No vessel is ever due yet: set how long a calibration lasts in Settings.',
  instruments: 'Due instruments',
  instrumentDue: (tag: string, kind: string) => `${tag}, ${kind}`,
  recent: 'Latest results',
  term: 'Summary of the term to print',
  what: 'the day',
  counts: {
    vessels: (count: number) => plural(count, { one: 'vessel', other: 'vessels' }),
    neverCalibrated: 'never calibrated',
    openCalibrations: (count: number) => plural(count, { one: 'open calibration', other: 'open calibrations' }),
    trials: (count: number) => plural(count, { one: 'trial', other: 'trials' }),
  },
  countsLabel: 'The logbook in numbers',
  allQuiet: 'Nothing is open, nothing is due, and every vessel that was judged passes or is decided about.',
  emptyTitle: 'An empty logbook',
  emptyWhat:
    'Tarebook keeps the calibrations of volumetric glassware: weigh empty, fill, weigh; it corrects, judges and keeps. Begin with one vessel.',
  first: 'Add the first vessel',
  delivery: 'Register a delivery',
  demoBefore: 'To look around first, stop the server and load invented data with the command',
  demoAfter: 'The logbook then says for ever that it is a demonstration.',
  demoCommand: 'npm run tarebook -- demo',
};

export const decisionText = {
  title: (tag: string) => `What becomes of ${tag}`,
  what: 'The decision stays in the record with its reason. The result stands as it was judged.',
  choice: 'Decision',
  choices: {
    downgrade: 'Take it down a class',
    retire: 'Take it out of use',
    'send-back': 'Send it back, out of use here',
    keep: 'Keep it in use all the same',
  },
  done: {
    downgrade: 'Taken down a class',
    retire: 'Taken out of use',
    'send-back': 'Sent back',
    keep: 'Kept in use all the same',
  },
  missing: 'Choose what becomes of it.',
  class: 'Class of its standard',
  classHelp: 'What was measured must pass it by the same rule. The next calibration is judged by it.',
  classMissing: 'Name the class, for example B.',
  save: 'Keep this decision',
  list: 'Decisions',
  ofClass: (from: string, to: string) => `class ${from} to ${to}`,
};

export const calendarText = {
  title: 'Due dates in a calendar',
  what: 'A calendar program that subscribes to such an address shows what is due. Whoever has the address can read it.',
  loading: 'your calendars',
  made: (person: string, day: string) => `made by ${person} on ${day}`,
  end: (label: string) => `End ${label}`,
  label: 'Name of the calendar',
  labelHelp: 'For example the device that shows it.',
  add: 'Make an address',
  once: 'Subscribe to this address now. It is not shown again.',
};
