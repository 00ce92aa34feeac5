/** What a solution comes to with the vessels of the register, against published examples and arithmetic by hand. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { expectProblem, everything } from '../server/attempts.ts';
import { freshTag, idOf, TestServer } from '../server/support.ts';
import {
  balance,
  BALANCE,
  BEAKER_250,
  BURETTE_25,
  calibrated,
  COPPER_SULFATE,
  evaluated,
  FLASK_100,
  FLASK_250,
  KHP,
  PIPETTE_10,
  ROOM,
  solidIn,
} from './shelf.ts';

let server: TestServer;
const ids: Record<'flask250' | 'flask100' | 'pipette' | 'burette' | 'beaker' | 'measured' | 'balance', string> = {
  flask250: '',
  flask100: '',
  pipette: '',
  burette: '',
  beaker: '',
  measured: '',
  balance: '',
};
beforeAll(async () => {
  server = await TestServer.start();
  ids.flask250 = await server.vessel(FLASK_250);
  ids.flask100 = await server.vessel(FLASK_100);
  ids.pipette = await server.vessel(PIPETTE_10);
  ids.burette = await server.vessel(BURETTE_25);
  ids.beaker = await server.vessel(BEAKER_250);
  ids.measured = await server.vessel({ ...FLASK_100, tag: freshTag() });
  await calibrated(server, ids.measured, '100', ['99.6612', '99.6580', '99.6634']);
  ids.balance = await balance(server);
});
afterAll(async () => server.end());

const codes = (result: { findings: { code: string }[] }) => result.findings.map(({ code }) => code);
const evaluate = (body: object) => server.send('POST', '/api/solutions/evaluate', body);

describe('from a solid', () => {
  it('gives the printed concentration of the cadmium standard (Eurachem/CITAC CG 4, A1: 1002.7 mg/L)', async () => {
    const result = await evaluated(
      server,
      solidIn(ids.flask100, {
        substance: {
          ...KHP,
          name: 'cadmium',
          formula: 'Cd',
          purity: '0.9999',
          purityHalfWidth: '0.0001',
        },
        target: { value: '1000', unit: 'mg/L' },
        madeUp: {
          by: 'volume',
          vesselId: ids.flask100,
          temperatureC: '20',
          temperatureHalfWidthC: '4',
          expansionPerK: '0.00021',
        },
        weighing: { massG: '0.10028' },
        buoyancy: 'off',
      }),
    );
    expect(result.value).toBeCloseTo(1002.7, 1);
    expect(result).toMatchObject({ way: 'solid', unit: 'mg/L', planned: false, approximate: false, quotedAtC: 20 });
    // The volume alone, 0.1 mL as a triangle, and the room's 4 °C: 0.41 and 0.49 mg/L by hand from the printed inputs.
    const calibration = result.budget.find(({ key }) => key.endsWith(':calibration'));
    expect(calibration?.contribution).toBeCloseTo((1002.7 * 0.1) / Math.sqrt(6) / 100, 2);
    expect(result.explanation.value).toBeCloseTo(result.value, 9);
    expect(result.explanation.parts[0]).toMatchObject({ typed: '0.10028' });
  });

  it('plans 250 mL of copper sulfate 0.0200 mol/L: 1.248 g of the pure salt by a handbook, 1.261 g at 99 %', async () => {
    const body = solidIn(ids.flask250, {
      substance: COPPER_SULFATE,
      target: { value: '0.0200', unit: 'mol/L' },
      balanceId: ids.balance,
      accuracyPercent: '1',
    });
    const result = await evaluated(server, body);
    // 249.69 g/mol (handbook, from memory) × 0.0200 mol/L × 0.250 L / 0.99
    expect(result.toWeigh?.massG).toBeCloseTo((249.69 * 0.02 * 0.25) / 0.99, 3);
    // Air of 1.2 kg/m3 lifts the salt of 2286 kg/m3 more than the weights: 1 − 1.2/8000 against 1 − 1.2/2286, 375 ppm.
    expect((result.toWeigh?.massG ?? 0) / (result.toWeigh?.readingG ?? 1) - 1).toBeCloseTo(0.000375, 5);
    expect(result).toMatchObject({ planned: true, approximate: true, significantDigits: 2, meetsAccuracy: false });
    expect(result.value).toBeCloseTo(0.02, 12);
    // 2000 times the repeatability of 0.1 mg (USP <41>).
    expect(result.toWeigh).toMatchObject({ minimumLoadG: 0.2, aboveMinimum: true });
    expect(codes(result)).toEqual(expect.arrayContaining(['approximate', 'vessel-not-calibrated', 'accuracy-not-met']));
    expect(result.cautions).toEqual(expect.arrayContaining(['goggles-and-gloves', 'dissolve-in-beaker', 'harmful']));
  });

  it('takes the measured volume of this flask, not the one printed on it', async () => {
    const body = { target: { value: '0.1', unit: 'mol/L' }, weighing: { massG: '2.0422' }, buoyancy: 'off' };
    const printed = await evaluated(server, solidIn(ids.flask100, body));
    const measured = await evaluated(server, solidIn(ids.measured, body));
    const [used] = measured.vessels;
    expect(used).toMatchObject({ vesselId: ids.measured, nominalMl: 100, use: 'made-up' });
    // 99.6609 g of water; 1.0028 mL/g at 20 °C and 1000 hPa (ISO 8655-6, table A.1), half a unit of its last digit.
    expect(Math.abs((used?.volumeMl ?? 0) - 99.6609 * 1.0028)).toBeLessThan(99.66 * 0.00005);
    expect(measured.value / printed.value).toBeCloseTo(100 / (used?.volumeMl ?? 0), 9);
    expect(used?.calibrationId).not.toBeNull();
    expect(codes(measured)).not.toContain('vessel-not-calibrated');
    expect(measured.expandedUncertainty).toBeLessThan(printed.expandedUncertainty);
  });

  it('is a mass in a mass where it is made up by weighing', async () => {
    const result = await evaluated(server, {
      way: 'solid',
      substance: { ...KHP, name: 'sodium chloride', formula: 'NaCl' },
      target: { value: '9000', unit: 'mg/kg' },
      madeUp: { by: 'mass', solutionG: '500.00' },
      balanceId: ids.balance,
      buoyancy: 'off',
    });
    expect(result.toWeigh?.massG).toBeCloseTo(4.5, 9);
    expect(result).toMatchObject({ unit: 'mg/kg', quotedAtC: null });
    // There is no flask to mind.
    expect(result.cautions).toEqual(['data-sheet-first', 'goggles-and-gloves', 'dry-before-weighing']);
  });

  it('as a mass in a mass has the buoyancy of both: the solution floats more than the salt', async () => {
    const by = (buoyancy: string) =>
      evaluated(server, {
        way: 'solid',
        substance: { ...KHP, densityKgPerM3: '1636' },
        target: { value: '0.05', unit: 'g/g' },
        madeUp: { by: 'mass', solutionG: '500.00' },
        weighing: { massG: '25.0000' },
        balanceId: ids.balance,
        air: { airTemperatureC: '20', airPressureHpa: '1013.25', relativeHumidityPercent: '50' },
        buoyancy,
      });
    const [on, off] = [await by('on'), await by('off')];
    // Air of 1.1992 kg/m3 at 20 °C, 1013.25 hPa and 50 % (CIPM-2007, from memory); 1000 kg/m3 for the solution.
    expect(on.value / off.value).toBeCloseTo((1 - 1.1992 / 1000) / (1 - 1.1992 / 1636), 6);
    // The density of the solution is within 10 %: 1.1992e-3 · 0.1/√3 of the concentration.
    const line = on.budget.find(({ key }) => key === 'whole:density');
    expect(Math.abs(line?.contribution ?? 0) / on.value).toBeCloseTo((1.1992e-3 * 0.1) / Math.sqrt(3), 6);
    expect(on.explanation.value).toBeCloseTo(on.value, 12);
  });

  it('counts the corrections of the balance as water does, and asks for a reading that allows for them', async () => {
    const corrections = [
      { at: '0', correction: '0.0001' },
      { at: '4', correction: '0.0041' },
    ];
    const certified = { ...BALANCE, tag: freshTag(), corrections, expandedUncertaintyG: '0.0003', coverageFactor: '2' };
    const balanceId = idOf(await server.post('/api/instruments', certified));
    const { corrections: _none, ...bare } = certified;
    const plainId = idOf(await server.post('/api/instruments', { ...bare, tag: freshTag() }));
    const weighed = (id: string, massG?: string) =>
      evaluated(server, solidIn(ids.flask100, { balanceId: id, ...(massG ? { weighing: { massG } } : {}) }));
    const [corrected, plain] = [await weighed(balanceId, '2.0000'), await weighed(plainId, '2.0000')];
    // On the line from 0.0001 g to 0.0041 g at 4 g: 0.0021 g at 2 g, less the 0.0001 g of the tared balance.
    expect(corrected.value / plain.value).toBeCloseTo(2.002 / 2, 9);
    // U = 0.0003 g and k = 2 of the certificate: 0.00015 g of 2 g, corrected or not.
    for (const { budget, value } of [corrected, plain]) {
      const slope = budget.find(({ key }) => key.endsWith(':slope'));
      expect(Math.abs(slope?.contribution ?? 0) / value).toBeCloseTo(0.00015 / 2, 9);
    }
    const [wanted, uncorrected] = [await weighed(balanceId), await weighed(plainId)];
    expect((wanted.toWeigh?.readingG ?? 0) * 1.001).toBeCloseTo(uncorrected.toWeigh?.readingG ?? 0, 9);
    expect(wanted.value).toBeCloseTo(0.1, 9);
    expect(corrected.explanation.value).toBeCloseTo(corrected.value, 12);
    expect(codes(await weighed(balanceId, '4.5000'))).toContain('correction-extrapolated');
  });
});

describe('diluted', () => {
  const step = () => ({ deliveries: [{ vesselId: ids.pipette }], madeUpIn: { vesselId: ids.flask100 } });
  const stock = { name: 'acid', value: '1.000', unit: 'mol/L', expandedUncertainty: '0.002', coverageFactor: '2' };

  it('four times 10 to 100 mL is 1e-4, and its vessels count as one each', async () => {
    const steps = [step(), step(), step(), step()];
    const result = await evaluated(server, { way: 'dilution', stock, steps, ...ROOM });
    expect(result.steps?.map(({ value }) => value)).toEqual(
      [0.1, 0.01, 0.001, 0.0001].map((value) => expect.closeTo(value, 9)),
    );
    // Relative: pipette 4 × 0.02/√3/10, flask 4 × 0.1/√6/100 (its own contributions, fully correlated).
    const lasting = result.budget.filter(({ key }) => key.endsWith(':calibration'));
    expect(lasting).toHaveLength(2);
    expect(lasting.map(({ contribution }) => contribution / result.value)).toEqual([
      expect.closeTo((4 * 0.02) / Math.sqrt(3) / 10, 6),
      expect.closeTo((4 * 0.1) / Math.sqrt(6) / 100, 6),
    ]);
    expect(result.explanation.value).toBeCloseTo(result.value, 12);
  });

  it('in a warm room gives the same, since stock and solution are warm alike', async () => {
    const cool = await evaluated(server, { way: 'dilution', stock, steps: [step()], ...ROOM });
    const warm = await evaluated(server, { way: 'dilution', stock, steps: [step()], ...ROOM, temperatureC: '27' });
    expect(warm.value / cool.value).toBeCloseTo(1, 9);
    // Quoted for 27 °C it is thinner: 996.5 against 998.2 kg/m3 (water, handbook).
    const quoted = await evaluated(server, { way: 'dilution', stock, steps: [step()], ...ROOM, quotedAtC: '27' });
    expect(quoted.value / cool.value).toBeCloseTo(996.5 / 998.2, 4);
  });

  it('from a bottle of hydrochloric acid is approximate, and says acid into water', async () => {
    const label = {
      name: 'hydrochloric acid 37 %',
      formula: 'HCl',
      densityGPerMl: '1.18',
      densityHalfWidth: '0.01',
      massFraction: '0.37',
      massFractionHalfWidth: '0.01',
    };
    const result = await evaluated(server, { way: 'dilution', stock: label, steps: [step()], ...ROOM });
    // 1000 × 1.18 × 0.37 / 36.46 / 10 by hand (molar mass of a handbook, from memory).
    expect(result.value).toBeCloseTo((1000 * 1.18 * 0.37) / 36.46 / 10, 3);
    expect(result).toMatchObject({ approximate: true, unit: 'mol/L' });
    expect(result.cautions).toContain('acid-into-water');
  });
});

it('asks about a mass ten times the one wanted, and takes it', async () => {
  const weighed = (massG: string) => evaluated(server, solidIn(ids.flask100, { weighing: { massG } }));
  // 0.1 mol/L in 100 mL: 2.04 g.
  const result = await weighed('20.422');
  expect(result.findings.find(({ code }) => code === 'weighed-far-from-wanted')?.detail).toMatch(/10 times the 2\.04/);
  expect(codes(await weighed('2.2422'))).not.toContain('weighed-far-from-wanted');
});

describe('standardised', () => {
  const body = (titrations: object[]) => ({
    way: 'standardisation',
    titrant: { name: 'sodium hydroxide', formula: 'NaOH' },
    standard: { substance: KHP },
    titrations,
    buretteId: ids.burette,
    repeatabilityPercent: '0.05',
    buoyancy: 'off',
    ...ROOM,
  });

  it('gives the printed sodium hydroxide of Eurachem/CITAC CG 4, A2: 0.10214 mol/L', async () => {
    const result = await evaluated(server, body([{ massG: '0.3888', buretteFromMl: '0.00', buretteToMl: '18.64' }]));
    expect(result.value).toBeCloseTo(0.10214, 5);
    expect(codes(result)).toContain('few-titrations');
    expect(result.explanation.value).toBeCloseTo(result.value, 12);
  });

  it('is the mean of its titrations', async () => {
    const titrations = ['18.64', '18.60', '18.66'].map((buretteToMl) => ({
      massG: '0.3888',
      buretteFromMl: '0',
      buretteToMl,
    }));
    const result = await evaluated(server, body(titrations));
    // 1000 × 0.3888 / (204.22 × V), handbook molar mass.
    const singles = [18.64, 18.6, 18.66].map((volume) => (1000 * 0.3888) / (204.22 * volume));
    expect(result.singles).toEqual(singles.map((one) => expect.closeTo(one, 5)));
    expect(result.value).toBeCloseTo((singles[0]! + singles[1]! + singles[2]!) / 3, 5);
    expect(codes(result)).not.toContain('few-titrations');
  });

  it('says that one titration lies apart, counts it all the same, and tells what is not known as it is', async () => {
    const titration = (massG: string, buretteFromMl = '0') => ({ massG, buretteFromMl, buretteToMl: '18.64' });
    const said = async (titrations: object[], more: object = {}) =>
      (await evaluated(server, { ...body(titrations), ...more })).findings.map(({ detail }) => detail).join(' ');
    const apart = await said([titration('0.3240'), titration('0.3888'), titration('0.3890')]);
    expect(apart).toMatch(/Titration 1, 0\.0851\d* mol\/L, lies apart/);
    expect(await said([titration('0.3888'), titration('0.3889'), titration('0.3890')])).not.toMatch(/apart/);
    expect(await said([titration('0.3888', '0.10')])).toMatch(
      /was not calibrated: from 0\.1 to 18\.64 mL within .* the repeatability of 0\.05 % counts/,
    );
    const none = await said([titration('0.3888')], { repeatabilityPercent: '0' });
    expect(none).toMatch(/no repeatability was given/);
  });

  it('refuses a reading beyond the scale, and one that does not rise', async () => {
    const reply = await evaluate(
      body([
        { massG: '0.3888', buretteFromMl: '1', buretteToMl: '26' },
        { massG: '0.3888', buretteFromMl: '5', buretteToMl: '5' },
        { buretteFromMl: '0', buretteToMl: '18.64' },
      ]),
    );
    expectProblem(reply, [
      'validation-failed',
      '#/titrations/0/buretteToMl',
      '#/titrations/1/buretteToMl',
      '#/titrations/2/massG',
    ]);
  });
});

describe('refuses at the field, in plain words, and stores nothing', () => {
  it.each([
    ['a beaker as a measure', () => solidIn(ids.beaker), '#/madeUp/vesselId', /beaker: its marks are no measure/],
    ['a pipette to make up in', () => solidIn(ids.pipette), '#/madeUp/vesselId', /marked to deliver/],
    [
      'a mark the flask does not have',
      () => solidIn(ids.flask100, { madeUp: { by: 'volume', vesselId: ids.flask100, pointMl: '50', ...ROOM } }),
      '#/madeUp/pointMl',
      /one mark, at 100 mL/,
    ],
    ['an unknown vessel', () => solidIn('zzzz'), '#/madeUp/vesselId', /no vessel with this id/],
    [
      'a formula that is none',
      () => solidIn(ids.flask100, { substance: { ...KHP, formula: 'Khp' } }),
      '#/substance/formula',
      /cannot be read/,
    ],
    [
      'a unit of weighing',
      () => solidIn(ids.flask100, { target: { value: '1', unit: 'g/g' } }),
      '#/target/unit',
      /made up by weighing/,
    ],
    ['a vessel as balance', () => solidIn(ids.flask100, { balanceId: ids.flask100 }), '#/balanceId', /no balance/],
    [
      'a flask to deliver',
      () => ({
        way: 'dilution',
        stock: { name: 's', value: '1', unit: 'g/L', expandedUncertainty: '0.01', coverageFactor: '2' },
        steps: [{ deliveries: [{ vesselId: ids.flask100 }], madeUpIn: { vesselId: ids.flask250 } }],
        ...ROOM,
      }),
      '#/steps/0/deliveries/0/vesselId',
      /marked to contain/,
    ],
    [
      'a number instead of text',
      () => solidIn(ids.flask100, { target: { value: 0.1, unit: 'mol/L' } }),
      '#/target/value',
      /text in quotes/,
    ],
  ])('%s', async (_name, body, pointer, words) => {
    const before = everything(server);
    const reply = await evaluate(body());
    expectProblem(reply, ['validation-failed', pointer]);
    expect((reply.body['errors'] as { detail: string }[])[0]?.detail).toMatch(words);
    expect(everything(server)).toEqual(before);
  });

  it('a vessel out of use', async () => {
    const id = await server.vessel(FLASK_100);
    await server.patch(`/api/vessels/${id}`, 1, { inUse: false, reason: 'broken neck' });
    expectProblem(await evaluate(solidIn(id)), ['validation-failed', '#/madeUp/vesselId']);
  });
});
