/** Text for two people changing one thing at the same time. */
export const conflictText = {
  what: 'Nothing was saved yet, and nothing you typed is lost. Look at what differs, then decide.',
  caption: 'What differs',
  field: 'Field',
  before: 'When you began',
  mine: 'Yours',
  present: 'Saved meanwhile',
  merge: 'Save my changes on top of it',
  mergeHelp: 'Where only the other one changed something, theirs stays; where you did, yours.',
  takePresent: 'Drop mine and go on with the saved one',
  nothing: '(nothing)',
  alike: 'Both say the same now. There is nothing left to save.',
};
