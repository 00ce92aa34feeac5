export const solutionKeys = {
  all: ['solutions'] as const,
  list: (search: string, shelf: string) => ['solutions', 'list', search, shelf] as const,
  one: (id: string) => ['solutions', 'one', id] as const,
  byNumber: (number: string) => ['solutions', 'by-number', number] as const,
  affected: (of: string, id: string) => ['solutions', 'affected', of, id] as const,
  evaluated: (asked: string) => ['evaluated', asked] as const,
  formula: (text: string) => ['formula', text] as const,
};
