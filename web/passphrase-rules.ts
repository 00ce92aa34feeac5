/** The same number as in the server's contract, which pages know by its types alone. */
export const SHORTEST = 8;
