/** Text of Today. */
import { plural } from './en.ts';

export const todayText = {
  title: 'Today',
  setUp: 'Anybody at this machine can write in this logbook, without a name.',
  setUpLink: 'Set up people',
  open: 'Go on with',
  failing: 'Not passing',
  failingWhat: 'Their latest calibration does not pass. Take them out of use or calibrate again.',
  overdue: 'Overdue instruments',
  overdueSince: (tag: string, kind: string, due: string) => `${tag}, ${kind}, due ${due}`,
  recent: 'Latest results',
  what: 'the day',
  counts: {
    vessels: (count: number) => plural(count, { one: 'vessel', other: 'vessels' }),
    neverCalibrated: 'never calibrated',
    openCalibrations: (count: number) => plural(count, { one: 'open calibration', other: 'open calibrations' }),
    trials: (count: number) => plural(count, { one: 'trial', other: 'trials' }),
  },
  countsLabel: 'The logbook in numbers',
  allQuiet: 'Nothing is open, nothing is overdue, and every vessel that was judged passes.',
  emptyTitle: 'An empty logbook',
  emptyWhat:
    'Tarebook keeps the calibrations of volumetric glassware: weigh empty, fill, weigh; it corrects, judges and keeps. Begin with one vessel.',
  first: 'Add the first vessel',
  demoBefore: 'To look around first, stop the server and load invented data with the command',
  demoAfter: 'The logbook then says for ever that it is a demonstration.',
  demoCommand: 'npm run tarebook -- demo',
};
