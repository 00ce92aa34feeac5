import type { Calibration } from '../../../server/calibrations/contract.ts';
import { startText } from '../../messages/en-start.ts';
import { age } from '../../parts/time.ts';
import { airReadAt } from '../bench/air-in-force.ts';
import type { StartDraft } from './draft.ts';

interface AirOf {
  draft: Pick<StartDraft, 'conditions' | 'isFromSheet'>;
  /** When the form was left as it is found here; null where it was not. */
  keptAtMs: number | null;
  latest: Pick<Calibration, 'conditionReadings' | 'recordedAt'> | null;
}

/** Where the air in the form comes from: the sheet, what was typed here before, an earlier calibration, or nowhere. */
export function airHelp({ draft, keptAtMs, latest }: AirOf, openedAtMs: number): string {
  if (draft.isFromSheet) return startText.airOfSheet;
  if (draft.conditions.airTemperatureC === '') return startText.airEmpty;
  if (keptAtMs !== null) return startText.airKept(age(new Date(keptAtMs).toISOString(), openedAtMs));
  return latest === null ? startText.airEmpty : startText.airCarried(age(airReadAt(latest), openedAtMs));
}
