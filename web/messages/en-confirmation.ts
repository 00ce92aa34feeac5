/** Text of limits that somebody compared with the standard itself. */
export const confirmationText = {
  act: 'Seen in the standard?',
  actFor: (row: string) => `Seen in the standard? ${row}`,
  again: 'Compared again',
  title: 'I have seen this value in the standard',
  row: (standard: string, edition: string, rest: string, limit: string) =>
    `${standard}, edition ${edition}, ${rest}: ±${limit}.`,
  what: 'Confirm only what stands so in your own copy of that edition. Until then the limit may judge, and a certificate names it as not checked.',
  where: 'Where it was seen',
  whereHelp: 'Table and page, for example Table 2, page 5.',
  whereMissing: 'Say where in the standard it stands.',
  confirm: 'Confirm it',
  confirmed: (by: string, at: string, where: string) => `Confirmed by ${by}, ${at}: ${where}`,
  anySize: 'any size',
  size: (volume: string) => `${volume} mL`,
  division: (division: string) => `division ${division} mL`,
  class: (name: string) => `class ${name}`,
};
