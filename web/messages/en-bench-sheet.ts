/** Text of the blank sheet for the bench. */
export const benchSheetText = {
  title: 'Sheet for the bench',
  what: 'Steps, cautions and room to write, for work away from a screen. It keeps nothing.',
  print: 'Print a sheet for the bench',
  fileName: 'bench-sheet.pdf',
};
