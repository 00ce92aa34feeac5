/** Ware and bodies that tests of solutions share; all invented. */
import type { SolutionResult } from '../../server/solutions/contract.ts';
import { CONDITIONS, freshTag, idOf, type TestServer } from '../server/support.ts';

const GLASS = { material: 'borosilicate-3.3', referenceTemperatureC: '20' };

export const FLASK_250 = {
  ...GLASS,
  kind: 'volumetric-flask',
  nominalVolumeMl: '250',
  basis: 'contain',
  tolerance: { standard: 'ISO 1042', edition: '1998', class: 'A' },
};
export const FLASK_100 = { ...FLASK_250, nominalVolumeMl: '100' };
export const PIPETTE_10 = {
  ...GLASS,
  kind: 'single-volume-pipette',
  nominalVolumeMl: '10',
  basis: 'deliver',
  tolerance: { markedMl: '0.02' },
};
export const BURETTE_25 = {
  ...GLASS,
  kind: 'burette',
  nominalVolumeMl: '25',
  basis: 'deliver',
  divisionMl: '0.05',
  tolerance: { markedMl: '0.03' },
};
export const BEAKER_250 = {
  ...GLASS,
  kind: 'beaker',
  nominalVolumeMl: '250',
  basis: 'contain',
  tolerance: { markedPercent: '5' },
};

export const BALANCE = { kind: 'balance', resolutionG: '0.0001', repeatabilityG: '0.0001', linearityG: '0.0002' };

export const KHP = {
  name: 'potassium hydrogen phthalate',
  formula: 'KHC8H4O4',
  primaryStandard: 'yes',
  purity: '1.0000',
  purityHalfWidth: '0.0005',
  purityCertified: true,
};
export const COPPER_SULFATE = {
  name: 'copper(II) sulfate',
  formula: 'CuSO4·5H2O',
  primaryStandard: 'no',
  purity: '0.99',
  purityHalfWidth: '0.005',
  purityCertified: false,
};

/** 20 °C, where neither glass nor water has moved. */
export const ROOM = { temperatureC: '20', temperatureHalfWidthC: '1' };

export const solidIn = (vesselId: string, more: object = {}) => ({
  way: 'solid',
  substance: KHP,
  target: { value: '0.1', unit: 'mol/L' },
  madeUp: { by: 'volume', vesselId, ...ROOM },
  ...more,
});

export const balance = async (server: TestServer): Promise<string> =>
  idOf(await server.post('/api/instruments', { ...BALANCE, tag: freshTag() }));

export const evaluated = async (server: TestServer, body: object): Promise<SolutionResult> => {
  const reply = await server.send('POST', '/api/solutions/evaluate', body);
  if (reply.status !== 200) throw new Error(`${reply.status} ${JSON.stringify(reply.body)}`);
  return reply.body as unknown as SolutionResult;
};

/** Calibrates a vessel at its nominal volume and ends at the bench; readings in g of three fillings. */
export const calibrated = async (
  server: TestServer,
  vesselId: string,
  pointMl: string,
  fillings: readonly string[],
  performedOn?: string,
): Promise<string> => {
  const calibration = await server.calibration(
    {
      points: [pointMl],
      plannedTrials: fillings.length,
      conditions: CONDITIONS,
      ...(performedOn ? { performedOn } : {}),
    },
    vesselId,
  );
  for (const filledG of fillings)
    await server.trial(calibration, { pointMl, emptyG: '0.0000', filledG, waterTemperatureC: '20.0' });
  const reply = await server.post(`/api/calibrations/${calibration}/measured`, {});
  if (reply.status >= 300) throw new Error(JSON.stringify(reply.body));
  return calibration;
};

/** A solution of a flask with its tolerance alone, kept. @returns its id */
export const preparedSolution = async (server: TestServer, more: object = {}): Promise<string> => {
  const flask = await server.vessel({ ...FLASK_100, tag: freshTag() });
  const solution = solidIn(flask, { weighing: { massG: '2.0422' }, balanceId: await balance(server) });
  return idOf(await server.post('/api/preparations', { title: 'Phthalate 0.1 mol/L', solution, ...more }));
};
