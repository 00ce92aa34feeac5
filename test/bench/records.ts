/** Records that the measures need, made over the wire like anybody's. Invented ware. */
import { randomUUID } from 'node:crypto';

/** @returns the id of a 100 mL flask */
export function makeVessel(address: string, tag: string): Promise<string> {
  return create(`${address}/api/vessels`, {
    tag,
    kind: 'volumetric-flask',
    nominalVolumeMl: '100',
    basis: 'contain',
    tolerance: { standard: 'ISO 1042', edition: '1998', class: 'A' },
    material: 'borosilicate-3.3',
    referenceTemperatureC: '20',
  });
}

/** @returns the id of an open calibration of the flask's mark */
export function makeCalibration(address: string, vessel: string, plannedTrials: number): Promise<string> {
  return create(`${address}/api/vessels/${vessel}/calibrations`, {
    points: ['100'],
    plannedTrials,
    decisionRule: 'guarded',
    conditions: { airTemperatureC: '20.5', airPressureHpa: '1002.3', relativeHumidityPercent: '45' },
    instruments: {},
  });
}

/** A class experiment of one flask, open, with nothing to be foreseen. @returns the code groups come in by */
export async function openExperiment(address: string): Promise<string> {
  const asks = { prediction: false, within: false, sureness: false };
  const id = await create(`${address}/api/experiments`, { template: 'one-flask-many-hands', asks });
  await made(`${address}/api/experiments/${id}/opening`, {});
  const reply = await fetch(`${address}/api/experiments/${id}/joining`);
  return ((await reply.json()) as { code: string }).code;
}

const create = async (address: string, body: unknown): Promise<string> =>
  (JSON.parse(await made(address, body)) as { id: string }).id;

async function made(address: string, body: unknown): Promise<string> {
  const reply = await fetch(address, {
    method: 'POST',
    headers: { 'content-type': 'application/json', 'idempotency-key': randomUUID() },
    body: JSON.stringify(body),
  });
  const text = await reply.text();
  if (reply.status !== 201) throw new Error(`${address} answered ${reply.status}: ${text}`);
  return text;
}
