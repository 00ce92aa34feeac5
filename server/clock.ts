const pad = (number: number): string => String(number).padStart(2, '0');

/** Calendar day on the server's own clock and zone, as ISO text: what "today" means in this laboratory. */
export const localDay = (moment: Date): string =>
  `${moment.getFullYear()}-${pad(moment.getMonth() + 1)}-${pad(moment.getDate())}`;
