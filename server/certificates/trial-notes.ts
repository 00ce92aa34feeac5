/** What has to be known of a trial beside its figures, in sentences. */
import type { TrialResult } from '../metrology/result.ts';
import { moment, sentence } from './statements.ts';
import { exclusionCauseWords, fieldWords } from './words.ts';

const authorship = (act: { recordedBy?: string | null; recordedAt?: string | null }): string => {
  const parts = [act.recordedBy, act.recordedAt == null ? null : moment(act.recordedAt)].filter((part) => part != null);
  return parts.length === 0 ? '' : ` (${parts.join(', ')})`;
};

/** Corrected, excluded, assumed, how it was delivered, noted. */
export function trialNotes(trial: TrialResult): string[] {
  const { corrections, exclusion, waterTemperatureHalfWidthC: halfWidth, note, tip, channel, drainPosition } = trial;
  const typed = trial as unknown as Record<string, string | null | undefined>;
  return [
    ...(exclusion == null
      ? []
      : [`Excluded: ${exclusionCauseWords[exclusion.cause]}. ${sentence(exclusion.reason)}${authorship(exclusion)}`]),
    ...(corrections ?? []).map(
      (correction) =>
        `Corrected: ${fieldWords[correction.field] ?? correction.field}, typed ${typed[correction.field] ?? 'nothing'}, is ${correction.value}. ${sentence(correction.reason)}${authorship(correction)}`,
    ),
    ...(halfWidth == null ? [] : [`Water temperature assumed, ±${halfWidth} °C.`]),
    ...(tip == null || tip === '' ? [] : [`Tip: ${sentence(tip)}`]),
    ...(channel == null ? [] : [`Channel ${channel}.`]),
    ...(drainPosition == null || drainPosition === '' ? [] : [`Tip held ${sentence(drainPosition)}`]),
    ...(note == null || note === '' ? [] : [`Note: ${sentence(note)}`]),
  ];
}
