/** A delivery of flasks and a round of weighing it; all invented. */
import { CONDITIONS, FLASK, idOf, type TestServer, TRIAL } from '../server/support.ts';

const { tag: _tag, ...flask } = FLASK;
export const WARE = flask;

let lots = 0;
export const delivery = (facts: object = {}): Record<string, unknown> => ({
  name: `Delivery ${(lots += 1)}`,
  receivedOn: '2026-09-14',
  ware: WARE,
  numbering: { pattern: `L${lots}-###`, first: 1, count: 3 },
  ...facts,
});

export const ROUND = { wayOfWorking: 'empties-first', plannedTrials: 3, conditions: CONDITIONS };

export interface Member {
  vesselId: string;
  calibrationId: string;
}

/** Registers a delivery and begins a round over all of it. */
export const begunLot = async (
  server: TestServer,
  count: number,
  round: object = {},
): Promise<{ lot: string; members: Member[] }> => {
  const body = delivery();
  const numbering = { ...(body['numbering'] as object), count };
  const lot = idOf(await server.post('/api/lots', { ...body, numbering }));
  const begun = await server.post(`/api/lots/${lot}/rounds`, { ...ROUND, ...round });
  if (begun.status !== 201) throw new Error(JSON.stringify(begun.body));
  return { lot, members: begun.body['calibrations'] as Member[] };
};

/** Filled readings of three trials; each vessel of a lot is a little larger than the one before. */
export const filledG = (vessel: number, trial: number): string =>
  (160.8371 + 0.01 * vessel + 0.002 * (trial % 3) * (vessel % 2 === 0 ? 1 : -1)).toFixed(4);

export const weighedLot = async (
  server: TestServer,
  count: number,
  round: object = {},
): Promise<{ lot: string; members: Member[] }> => {
  const begun = await begunLot(server, count, round);
  for (const [vessel, { calibrationId }] of begun.members.entries())
    for (const trial of [0, 1, 2]) await server.trial(calibrationId, { ...TRIAL, filledG: filledG(vessel, trial) });
  return begun;
};
