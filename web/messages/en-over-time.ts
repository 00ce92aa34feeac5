/** Text of what is seen over time: drift, intervals, acceptance, control charts, limits of piston pipettes. */

export const randomText = {
  both: (systematic: string, random: string, spread: string | null, limit: string) =>
    `systematic: ${systematic} · random: ${random}${spread === null ? '' : `, spread ${spread}`} of ${limit} mL`,
};
