/** Text of an opened number. Fetched with the first one opened. */
export const explanationText = {
  what: 'where the number comes from',
  nothing: 'This number is not known yet.',
  close: 'Close',
  typed: 'as typed',
  assumed: 'assumed',
  commonPractice: 'Common practice, no source',
  cited: (author: string, year: number) => `${author} ${year}`,
  /** By symbol and the word that came with it. */
  labels: {
    's own': 'spread of these trials',
    's pooled': 'pooled spread',
    's predicted': 'spread foreseen from balance and mark',
    'c sensitivity': 'how far the volume moves with this input',
  } as Record<string, string>,
};
