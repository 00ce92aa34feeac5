/** Every finding about the data of a class by its code. Findings inform; they leave no trial out. */
export const CLASS_FINDINGS = {
  'no-trials': 'Nobody has weighed in this row yet.',
  'needs-2-trials': 'One trial shows no spread; two are needed.',
  'needs-2-groups': 'One group alone cannot show how far groups differ.',
  'no-repeats': 'Every group weighed once, so spread within and between groups cannot be told apart.',
  'few-groups': 'Few groups give only a rough spread between groups.',
  'negative-between':
    'The groups lie closer together than their own spread explains; the spread between them counts as 0.',
  'groups-differ': 'The groups differ by more than their own spread explains.',
  'suspected-outlier': 'One trial lies far from the others. Look for a cause; the number alone leaves nothing out.',
} as const;

export type ClassFindingCode = keyof typeof CLASS_FINDINGS;

export interface ClassFinding {
  code: ClassFindingCode;
  /** One plain sentence with the numbers in it. */
  detail: string;
}

export function classFinding(code: ClassFindingCode, detail: string): ClassFinding {
  return { code, detail };
}
