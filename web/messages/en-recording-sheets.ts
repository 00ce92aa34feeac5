/** Text about recording sheets: printed blank for the bench, typed in afterwards. */
import { plural } from './en.ts';

export const recordingSheetText = {
  title: 'Recording sheets',
  one: 'Recording sheet',
  typeOne: 'Type in a sheet',
  type: 'Type in the sheets',
  what: 'the recording sheets',
  lead: 'Blank sheets for the bench, with what is known filled in. Weigh with pencil and paper, then type the sheet into the record.',
  outOfUse: (count: number) =>
    plural(count, {
      one: 'A vessel out of use gets no sheet.',
      other: `${count} vessels out of use get no sheet.`,
    }),
  howPrinted: 'How it is set',
  form: 'Form',
  forms: { vessel: 'A page for each vessel', compact: 'One table for all vessels' },
  formNotes: {
    vessel: 'Room for several test points, and for delivery and waiting times.',
    compact: 'For a round: vessels down; up to three trials stand side by side.',
  },
  trials: 'Trials at each point',
  trialsHelp: 'Left empty, as many as Settings plan.',
  trialsWhole: 'Type a whole number from 1 to 30.',
  print: 'Make the sheets (PDF)',
};
