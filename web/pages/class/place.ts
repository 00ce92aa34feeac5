export type Place = 'join' | 'group' | 'board';
