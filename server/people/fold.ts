/** Names that differ only in capitals or in how a letter is composed are the same name. */
export const fold = (name: string): string => name.trim().normalize('NFC').toLowerCase().normalize('NFC');
