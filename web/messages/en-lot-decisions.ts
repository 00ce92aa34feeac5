/** Text about what becomes of a delivery, and about putting its facts right. */
import type { LotCounts, LotDecision, SamplePlan } from '../../server/lots/contract-decision.ts';
import { plural } from './en.ts';

const vessels = (count: number) => plural(count, { one: '1 vessel', other: `${count} vessels` });

export const lotDecisionText = {
  title: 'What becomes of the delivery',
  sample: 'Accept it from a sample',
  decide: 'Decide about the delivery',
  byPlan: 'Decide by this plan',
  dialogTitle: (name: string) => `What becomes of ${name}`,
  what: 'The decision stays in the record with its reason and with what was found by then.',
  choice: 'Decision',
  choices: {
    accept: 'Accept it',
    reject: 'Send it back',
    screen: 'Test every vessel, and sort out what does not pass',
  } satisfies Record<LotDecision, string>,
  help: {
    accept: 'Vessels that were not tested may be used by the volume on their mark.',
    reject: 'Every vessel leaves use here; what is still at the bench ends without a result.',
    screen: 'Nothing is used before it was measured.',
  } satisfies Record<LotDecision, string>,
  done: { accept: 'Accepted', reject: 'Sent back', screen: 'Every vessel to be tested' } satisfies Record<
    LotDecision,
    string
  >,
  leaving: (count: number) =>
    plural(count, { one: '1 vessel leaves use with it.', other: `${count} vessels leave use with it.` }),
  missing: 'Choose what becomes of it.',
  save: 'Keep this decision',
  plan: ({ sampleSize, acceptAtMost }: SamplePlan) =>
    `sample of ${sampleSize}, accepted with at most ${acceptAtMost} that fail`,
  counts: ({ vessels: all, tested, notPassing }: LotCounts) =>
    `${tested} of ${vessels(all)} tested, ${notPassing === 0 ? 'all pass' : `${notPassing} not passing`}`,
  waiting: (count: number) =>
    plural(count, {
      one: '1 vessel does not pass, and nothing is decided about it.',
      other: `${count} vessels do not pass, and nothing is decided about them.`,
    }),
  decideVessels: (count: number) => plural(count, { one: 'Decide about it', other: `Decide about all ${count}` }),
  vesselsTitle: (count: number) => `What becomes of ${vessels(count)}`,
  vesselsWhat: 'One decision for all that are ticked; each keeps it with the reason in its own history.',
  which: 'Vessels',
  noneTicked: 'Tick at least one vessel.',
};

export const correctLotText = {
  open: 'Correct the delivery',
  title: (name: string) => `Correct the delivery ${name}`,
  lead: 'What arrived, when and from whom. The earlier facts stay readable in the journal; the vessels have forms of their own.',
  reason: 'Why it is corrected',
  save: 'Save the correction',
  staleTitle: 'Somebody changed this delivery meanwhile',
  nothingChanged: 'Nothing is different from what is stored.',
};
