/** Text about what is typed and not saved yet. */

export const draftText = {
  empty: 'Empty the form',
};
