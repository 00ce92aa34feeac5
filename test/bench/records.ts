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

async function create(address: string, body: unknown): Promise<string> {
  const reply = await fetch(address, {
    method: 'POST',
    headers: { 'content-type': 'application/json', 'idempotency-key': randomUUID() },
    body: JSON.stringify(body),
  });
  const text = await reply.text();
  if (reply.status !== 201) throw new Error(`${address} answered ${reply.status}: ${text}`);
  return (JSON.parse(text) as { id: string }).id;
}
