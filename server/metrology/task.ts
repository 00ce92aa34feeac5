import { instrumentNumbers } from './instrument-numbers.ts';
import type { InstrumentNumbers } from './instrument-numbers.ts';
import { readingMark } from './reading-mark.ts';
import type { ReadingMark } from './reading-mark.ts';
import type { CalibrationRecord, CoverageProbability, DecisionRule } from './record.ts';
import { pooledChoice } from './repeatability.ts';
import type { Repeatability } from './repeatability.ts';
import type { Finding } from './result.ts';
import { prepareSetup } from './setup.ts';
import type { Setup } from './setup.ts';
import { findTolerance, rowOf } from './tolerance.ts';
import type { ToleranceMatch, ToleranceRow } from './tolerance.ts';

/** What every point of a calibration is worked out and judged with. */
export interface Task {
  setup: Setup;
  match: ToleranceMatch;
  rows: readonly ToleranceRow[];
  rule: DecisionRule;
  coverageProbability: CoverageProbability;
  instruments: InstrumentNumbers;
  mark: ReadingMark;
  /** The pooled spread chosen before the first trial, null for none. */
  pooled: Repeatability | null;
  pooledFindings: readonly Finding[];
}

export function prepareTask(record: CalibrationRecord, rows: readonly ToleranceRow[]): Task {
  const match = findTolerance(rows, record.vessel);
  const row = rowOf(match);
  const setup = prepareSetup(record, row);
  const pooledFindings: Finding[] = [];
  return {
    setup,
    match,
    rows,
    rule: record.decisionRule ?? 'guarded',
    coverageProbability: record.coverageProbability ?? '0.9545',
    instruments: instrumentNumbers(setup.instruments),
    mark: readingMark(record.vessel, setup.basis, row, rows),
    pooled: pooledChoice(record.repeatability, pooledFindings),
    pooledFindings,
  };
}
