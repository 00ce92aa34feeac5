import type { Issued, IssueEntry } from '../issued.ts';
export const certificateXml = (issued: Issued, entry: IssueEntry): Buffer =>
  Buffer.from(`<x>${issued.number} ${entry.hash}</x>`);
