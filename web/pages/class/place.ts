export const PLACES = ['join', 'group', 'board', 'assist'] as const;
export type Place = (typeof PLACES)[number];
