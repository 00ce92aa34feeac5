/** Rounds of a delivery as a technician would work them: looked over, weighed, off the bench, decided about. */
import { calibrationBodyOf, decisionBodyOf, listed, trialBodyOf } from './bodies.ts';
import type { DemoTables, Row } from './rows.ts';
import { post, type Ledger, type Send } from './send.ts';

interface RoundBegun {
  calibrations: { vesselId: string; calibrationId: string }[];
}

interface Begun {
  url: string;
  name: string;
  trials: readonly Row[];
  acts: readonly Row[];
}

const LOOKED_OVER = { chips: false, cracks: false, cleanFilm: true, dry: true };

/** One vessel of a round: looked over, then weighed unless it is damaged. */
const weigh = async (
  send: Send,
  ids: Ledger,
  { name, trials, acts }: Begun,
  { tag, calibrationId }: { tag: string; calibrationId: string },
): Promise<void> => {
  const damaged = acts.find((act) => act['act'] === 'damaged' && act['vessel'] === tag);
  await post(send, `${name}:inspection:${tag}`, `/api/vessels/${ids.get(tag)}/inspections`, {
    calibrationId,
    ...(damaged
      ? { outcome: 'damaged', findings: { ...LOOKED_OVER, cracks: true }, note: damaged['reason'] }
      : { outcome: 'fit', findings: LOOKED_OVER }),
  });
  for (const trial of trials.filter((row) => row['vessel'] === tag))
    await post(
      send,
      `${name}:${tag}:trial:${trial['number']}`,
      `/api/calibrations/${calibrationId}/trials`,
      trialBodyOf(trial),
    );
};

const checkZero = async (send: Send, { url, name, acts }: Begun): Promise<void> => {
  for (const act of acts.filter((row) => row['act'] === 'zero-check'))
    await post(send, `${name}:zero:${act['afterVessels']}`, `${url}/zero-checks`, {
      readingG: act['readingG'],
      afterVessels: Number(act['afterVessels']),
      note: act['reason'],
    });
};

const decide = async (send: Send, ids: Ledger, lotUrl: string, { name, acts }: Begun): Promise<void> => {
  for (const [index, act] of acts.entries()) {
    if (act['act'] === 'vessel-decision')
      await post(send, `${name}:act:${index + 1}`, `${lotUrl}/vessel-decisions`, {
        ...decisionBodyOf(act),
        vesselIds: [ids.get(act['vessel'] ?? '')],
      });
    if (act['act'] === 'decision')
      await post(send, `${name}:act:${index + 1}`, `${lotUrl}/decisions`, decisionBodyOf(act));
  }
};

/** @throws DemoRefused where the logbook refuses a row */
export const workRound = async (send: Send, ids: Ledger, tables: DemoTables, row: Row): Promise<void> => {
  const { lot = '', round = '' } = row;
  const lotUrl = `/api/lots/${ids.get(`lot ${lot}`)}`;
  const ofRound = (one: Row): boolean => one['lot'] === lot && one['round'] === round;
  const name = `round:${lot}:${round}`;
  const tags = listed(row['vessels']);
  const { calibrations } = await post<RoundBegun>(send, name, `${lotUrl}/rounds`, {
    ...calibrationBodyOf(row, (tag) => ids.get(tag)),
    wayOfWorking: row['wayOfWorking'],
    repeatability: 'pooled',
    vesselIds: tags.map((tag) => ids.get(tag)),
  });
  const work: Begun = {
    url: `${lotUrl}/rounds/${round}`,
    name,
    trials: tables.roundTrials.filter(ofRound),
    acts: tables.lotActs.filter(ofRound),
  };
  await Promise.all(
    calibrations.map(({ calibrationId }, index) => weigh(send, ids, work, { tag: tags[index] ?? '', calibrationId })),
  );
  await checkZero(send, work);
  await post(send, `${name}:measured`, `${work.url}/measured`, {});
  await decide(send, ids, lotUrl, work);
};
