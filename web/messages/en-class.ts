/** Text of the pages a class sees on its phones: coming in, cautions, foreseeing, weighing, what was found. */
import type { Basis, ExclusionCause } from '../../server/metrology/record.ts';
import { cautionsText } from './en-cautions.ts';
import { plural } from './en.ts';

const causes: Record<ExclusionCause, string> = {
  spill: 'Water was spilt.',
  'drop-left': 'A drop stayed where it does not belong.',
  'wrong-mark': 'It was filled to another mark.',
  'door-open': 'Draught, or the door of the balance was open.',
  typing: 'Typed wrongly, and the true reading is lost.',
  other: 'Something else.',
};

const sure = { guess: 'a guess', 'fairly-sure': 'fairly sure', sure: 'sure' };

export const joinText = {
  title: 'Come in',
  lead: 'Your teacher shows a code. One phone is enough for a group.',
  code: 'Code',
  codeHelp: 'Six letters and digits. Capitals and spaces do not matter.',
  codeMissing: 'Type the code your teacher shows.',
  join: 'Come in as a new group',
  joining: 'Coming in …',
  names: 'Nobody types a name here. The program gives your group one.',
  back: 'We have a group already',
  backLead: 'On another phone, or after this one was restarted: type the code and the word of your group.',
  word: 'Word of your group',
  wordHelp: 'Five letters. You wrote them down when you came in.',
  wordMissing: 'Type the word of your group.',
  comeBack: 'Come back',
  asNew: 'We have no group yet',
  hereTitle: (name: string) => `This phone is in the class as ${name}`,
  goOn: 'Go on measuring',
  another: 'Come in as another group',
  left: (name: string, count: number) =>
    plural(count, {
      one: `This phone still holds 1 entry of ${name} that did not reach the class. Come back as ${name} with its word to send it.`,
      other: `This phone still holds ${count} entries of ${name} that did not reach the class. Come back as ${name} with its word to send them.`,
    }),
};

export const assistText = {
  title: 'Enter for the class',
  what: 'the groups',
  lead: 'One person enters for every group: at one balance, or from sheets of paper.',
  code: 'Assistant code',
  codeHelp: 'Ten letters and digits. Whoever teaches sees it beside the code of the class.',
  codeMissing: 'Type the assistant code.',
  comeIn: 'Come in',
  comingIn: 'Coming in …',
  out: 'The lesson is closed, or its codes were changed. Ask whoever teaches for the present assistant code.',
  held: (count: number) =>
    plural(count, {
      one: 'This device still holds 1 entry that did not reach the class. Come in again to send it.',
      other: `This device still holds ${count} entries that did not reach the class. Come in again to send them.`,
    }),
  away: 'No connection. The groups appear once the server answers.',
  closed: 'The lesson is closed',
  closedWhat: 'Nothing more can be entered.',
  groups: 'For which group?',
  none: 'No group yet. They come in by phone, or you make one here.',
  newGroup: 'A new group without a phone',
  number: (number: number) => `Group ${number}`,
  begun: 'begun',
  progress: (done: number, planned: number) =>
    done > planned ? plural(done, { one: '1 trial', other: `${done} trials` }) : `${done} of ${planned} trials`,
  fromPaper: 'What I type comes from sheets of paper',
  fromPaperNow: 'What is typed here is marked as copied from paper.',
  enterFor: 'What this group expects and weighs is entered here, and nothing of other groups.',
  allGroups: 'All groups',
};

export const welcomeText = {
  title: (name: string) => `Your group is ${name}`,
  wordLabel: 'Your word',
  spelt: (word: string) => `Your word, letter by letter: ${[...word].join(' ')}.`,
  why: 'Write it down now. With the code and this word your group comes back on any other phone.',
  written: 'We wrote it down',
};

export const cautionText = {
  title: 'Before the first weighing',
  lead: 'Read each line together and tick it.',
  first: 'The rules of your room and what your teacher says come first.',
  teacher: 'From your teacher',
  lines: [
    {
      key: 'glass',
      title: 'Glass.',
      say: 'Look for chips and cracks before you lift it. Damaged ware goes to your teacher. Nobody picks up broken glass by hand.',
    },
    { key: 'pipettes', title: cautionsText.pipetteCaution, say: cautionsText.pipetteCautionWhat },
    { key: 'spills', title: cautionsText.spillCaution, say: cautionsText.spillCautionWhat },
    { key: 'lifting', title: cautionsText.largeCaution, say: 'One hand at the body, one below. Wet glass slips.' },
    { key: 'water', title: 'Water only.', say: 'Nothing else goes into the ware, and nobody drinks from it.' },
  ],
  missing: 'Tick every line once your group has read it.',
  done: 'Go to the bench',
};

const basis: Record<Basis, { name: string; how: string; empty: string; filled: string }> = {
  contain: {
    name: 'Weigh the full vessel',
    how: 'Weigh it empty and dry, fill it, weigh it full.',
    empty: 'Empty vessel',
    filled: 'Full vessel',
  },
  deliver: {
    name: 'Pour out and weigh',
    how: 'Weigh a cup, let the water run into it, weigh it again.',
    empty: 'Cup before',
    filled: 'Cup with the water',
  },
};

export const benchText = {
  checkYourselves: 'Check yourselves: which ware for what',
  loading: 'your group',
  group: (name: string) => `Group ${name}`,
  nameless: 'Your group',
  yourWord: 'Word of your group',
  wordUnknown: 'This phone does not know it. Your teacher can give your group a new one.',
  madeUp: 'Made-up class. Every reading in it is invented, to rehearse with.',
  offline: 'No connection. What you type is kept on this phone and sent by itself.',
  unsent: (count: number) => plural(count, { one: '1 not sent yet', other: `${count} not sent yet` }),
  keepsNothing: 'This phone keeps nothing: a reload would lose what is not sent. Do not close the page.',
  steps: 'What to measure',
  stepState: (done: number, planned: number) => `${done} of ${planned}`,
  nominal: (volume: string) => `${volume} mL`,
  tolerance: (limit: string, source: string | null) =>
    source === null ? `tolerance ±${limit} mL` : `tolerance ±${limit} mL, ${source}`,
  noTolerance: 'no tolerance stated',
  basis,
  drops: (count: number) => `Count ${count} drops into each trial.`,
  reading: {
    title: 'How it is read',
    ring: 'One ring mark: there is no scale to read. Bring your eye level with it, so that front and back of the ring cover each other. Where the step asks for nothing else, the lowest point of the meniscus touches the mark.',
    scale: (division: string, estimated: string, example: string) =>
      `Lines every ${division} mL. The lines give the certain digits; estimate one more, to ${estimated} mL. Set to the mark, it reads ${example} mL.`,
    unlined:
      'The lines give the certain digits; estimate one more between them, with your eye level with the meniscus.',
    broad: (division: string | null) =>
      division === null
        ? 'A broad printed mark. It says roughly how full the vessel is; there is no digit to estimate.'
        : `Broad printed marks every ${division} mL. They say roughly how full the vessel is; there is no digit to estimate.`,
    none: 'No mark to read: the vessel closes its volume by itself.',
  },
};

export const foreseeText = {
  title: 'First: what do you expect?',
  lead: 'Say it before the first weighing. Nobody is marked for it.',
  volume: 'Volume you expect',
  within: 'Single fillings lie within',
  withinHelp: 'How far one filling may be off, either way.',
  sureness: 'How sure is your group?',
  surenessMissing: 'Choose one.',
  options: [
    { value: 'guess', label: 'A guess' },
    { value: 'fairly-sure', label: 'Fairly sure' },
    { value: 'sure', label: 'Sure' },
  ] as const,
  save: 'Keep this, then weigh',
  sure,
  before: 'You expect',
  change: 'Change it',
  said: (volume: string, within: string | null, said: keyof typeof sure | null) => {
    const size = within === null ? `${volume} mL` : `(${volume} ± ${within}) mL`;
    return said === null ? size : `${size}, ${sure[said]}`;
  },
};

export const entryText = {
  title: (number: number) => `Trial ${number}`,
  digits: (shown: string) => `Type every digit the balance shows, like ${shown}.`,
  water: 'Water temperature',
  waterAssumed: (temperature: string) => `Left empty, ${temperature} °C counts, as for the whole class.`,
  waterMissing: 'Type the temperature of the water.',
  save: (number: number) => `Save trial ${number}`,
  saving: 'Saving …',
  swap: 'Swap the two readings',
  really: 'Yes, the balance shows that',
  saved: (number: number, volume: string) => `Trial ${number} is saved: ${volume} mL.`,
  kept: 'Kept on this phone, not sent yet.',
  planned: (count: number) =>
    plural(count, { one: 'The planned trial is done.', other: `The ${count} planned trials are done.` }),
  more: 'Weigh once more',
  next: (label: string) => `Next: ${label}`,
  all: 'Everything planned is measured. Look at what you found, and ask another group what they found.',
};

export const waitingText = {
  title: 'Not sent yet',
  trial: (empty: string, filled: string) => `${empty} g, ${filled} g`,
  foreseen: (volume: string) => `Expected: ${volume} mL`,
  refused: 'The class did not take this',
  change: 'Change it',
  takeOut: 'Take it out',
  fieldsFull: 'Save or empty the fields first.',
};

export const foundText = {
  title: 'What you found',
  none: 'Nothing weighed yet.',
  expected: 'You expected',
  mean: 'Mean',
  bias: 'Bias',
  biasSub: (nominal: string) => `mean − ${nominal} mL`,
  spread: 'Spread',
  spreadSub: 'of single trials',
  needsTwo: 'needs two trials',
  n: (count: number) => plural(count, { one: '1 trial', other: `${count} trials` }),
  nOf: (counted: number, all: number) => `${counted} of ${all} trials`,
  threeTitle: 'One weighing, three volumes',
  trial: 'Trial',
  simple: 'simple',
  density: 'with density',
  corrected: 'corrected',
  question: 'What changed from column to column, and why?',
  hint: 'A hint',
  hints: [
    'Simple: a gram is taken for a millilitre.',
    'With density: a millilitre of water at your temperature weighs a little less than a gram.',
    'Corrected: air carries a little of the water’s weight, and glass is a little larger when it is warm. This is the volume at the temperature the vessel is made for.',
  ],
  leftOut: 'left out',
  changed: 'corrected slip',
  open: (number: number) => `Trial ${number}: look at it, correct it, leave it out`,
  readings: (empty: string, filled: string, water: string) => `${empty} g, ${filled} g, water at ${water} °C`,
  assumed: 'as for the whole class',
  was: (field: string, before: string, now: string, reason: string) => `${field}: ${before} became ${now}. ${reason}`,
  excludedFor: (cause: ExclusionCause) => `Left out: ${causes[cause].toLowerCase()}`,
  correct: 'Correct a slip',
  leaveOut: 'Leave it out',
  countAgain: 'Count it again',
};

export const actText = {
  correctTitle: (number: number) => `Correct trial ${number}`,
  correctWhat: 'For a slip in typing. The old value stays readable beside the new one.',
  field: 'Which number?',
  value: 'It should read',
  reason: 'What happened',
  reasonHelp: 'A few words, without names.',
  reasonMissing: 'Say what happened, in a few words.',
  correct: 'Correct it',
  leaveOutTitle: (number: number) => `Leave trial ${number} out`,
  leaveOutWhat:
    'For something that went wrong at the bench, never because a number looks odd. The trial stays in sight and counts in no mean.',
  cause: 'What went wrong?',
  causeMissing: 'Choose what went wrong.',
  causes,
  leaveOut: 'Leave it out',
};

export const eraseText = {
  title: 'The data of this class were erased',
  what: 'Nothing the class measured is left, here or in the logbook.',
  left: (count: number) =>
    plural(count, {
      one: '1 entry never reached the class. It stands only here: write it down if you need it.',
      other: `${count} entries never reached the class. They stand only here: write them down if you need them.`,
    }),
  blank: '–',
  clear: 'Clear this device',
  another: 'Come in to another class',
};

export const endText = {
  title: 'This phone is out of the class',
  nothing: 'The lesson is closed, or your teacher gave your group a new word.',
  what: 'The lesson is closed, or your teacher gave your group a new word. What your group measured:',
  closedTitle: 'The lesson is closed',
  closedWhat: 'Nothing more can be entered. What your group measured:',
  unsent: (count: number) =>
    plural(count, {
      one: '1 entry did not reach the class. Show it to your teacher.',
      other: `${count} entries did not reach the class. Show them to your teacher.`,
    }),
  back: 'Come back with the word',
  forget: 'Clear this phone',
  forgetWhat: 'Takes what your group measured off this phone. The class keeps it.',
};
