import type { CalibrationRecord, TrialFacts, VesselFacts } from '../../server/metrology/record.ts';

/** A 100 mL flask of class A, as most laboratories have it. */
export function flask(facts: Partial<VesselFacts> = {}): VesselFacts {
  return {
    kind: 'volumetric-flask',
    nominalVolumeMl: '100',
    basis: 'contain',
    tolerance: { standard: 'ISO 1042', edition: '1998', class: 'A' },
    material: 'borosilicate-3.3',
    referenceTemperatureC: '20',
    ...facts,
  };
}

export function trial(facts: Partial<TrialFacts> = {}): TrialFacts {
  return { pointMl: '100', emptyG: '61.2034', filledG: '160.8371', waterTemperatureC: '21.3', ...facts };
}

/** A calibration in measured air, with everything recorded that findings ask for. */
export function record(facts: Partial<CalibrationRecord> = {}): CalibrationRecord {
  return {
    vessel: flask(),
    conditions: {
      airTemperatureC: '21.8',
      airPressureHpa: '992.5',
      relativeHumidityPercent: '48',
      waterGrade: 'grade-3',
      inspected: true,
    },
    trials: [trial()],
    ...facts,
  };
}

/** Trials of one point that weigh the given masses, empty 61.2034 g. */
export function trialsOf(masses: readonly string[], facts: Partial<TrialFacts> = {}): TrialFacts[] {
  return masses.map((massG) => trial({ emptyG: '0.0000', filledG: massG, emptySource: 'tared', ...facts }));
}

export function codes(findings: readonly { code: string }[]): string[] {
  return findings.map((finding) => finding.code);
}
