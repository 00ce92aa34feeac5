/** Text of numbers that open: small, because every result carries it. */
export const unfoldText = {
  hint: 'Where this number comes from',
  loading: 'Loading where it comes from …',
  budget: 'Where U comes from',
  referee: 'Let a referee check U',
  excludedWord: (verdict: string) => `With the excluded trials: ${verdict}.`,
  savedOnly: 'Explained for the saved trials; the one being typed is not in it yet.',
};
