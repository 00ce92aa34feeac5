import { numberOrNull } from './decimal.ts';
import type { InstrumentFacts } from './record.ts';

/** U over k of a certificate with its degrees of freedom; null U where the certificate gives none. */
export interface CertificateNumbers {
  expanded: number | null;
  coverageFactor: number;
  degreesOfFreedom: number | null;
}

export interface InstrumentNumbers {
  balance: {
    named: boolean;
    resolutionG: number | null;
    repeatabilityG: number | null;
    linearityG: number | null;
    driftRelative: number | null;
    expandedG: number | null;
    expandedRelative: number | null;
    coverageFactor: number;
    degreesOfFreedom: number | null;
    covers: readonly string[];
  };
  thermometer: (CertificateNumbers & { resolutionC: number | null; gradientC: number | null }) | null;
  airThermometer: CertificateNumbers | null;
  barometer: CertificateNumbers | null;
  hygrometer: CertificateNumbers | null;
}

/** Coverage factor of a certificate that does not name one. */
const USUAL_COVERAGE_FACTOR = 2;

function certificate(
  facts: { coverageFactor?: string | null | undefined; degreesOfFreedom?: number | null | undefined },
  expanded: string | null | undefined,
): CertificateNumbers {
  return {
    expanded: numberOrNull(expanded),
    coverageFactor: numberOrNull(facts.coverageFactor) ?? USUAL_COVERAGE_FACTOR,
    degreesOfFreedom: facts.degreesOfFreedom ?? null,
  };
}

/** The numbers of the instruments, parsed once for a calibration. */
export function instrumentNumbers(instruments: InstrumentFacts): InstrumentNumbers {
  const { balance, thermometer, airThermometer, barometer, hygrometer } = instruments;
  return {
    balance: {
      named: balance != null,
      resolutionG: numberOrNull(balance?.resolutionG),
      repeatabilityG: numberOrNull(balance?.repeatabilityG),
      linearityG: numberOrNull(balance?.linearityG),
      driftRelative: numberOrNull(balance?.driftRelative),
      expandedG: numberOrNull(balance?.expandedUncertaintyG),
      expandedRelative: numberOrNull(balance?.expandedUncertaintyRelative),
      coverageFactor: numberOrNull(balance?.coverageFactor) ?? USUAL_COVERAGE_FACTOR,
      degreesOfFreedom: balance?.degreesOfFreedom ?? null,
      covers: balance?.certificateCovers ?? [],
    },
    thermometer:
      thermometer == null
        ? null
        : {
            expanded: numberOrNull(thermometer.expandedUncertaintyC),
            coverageFactor: numberOrNull(thermometer.coverageFactor) ?? USUAL_COVERAGE_FACTOR,
            degreesOfFreedom: thermometer.degreesOfFreedom ?? null,
            resolutionC: numberOrNull(thermometer.resolutionC),
            gradientC: numberOrNull(thermometer.gradientC),
          },
    airThermometer: airThermometer == null ? null : certificate(airThermometer, airThermometer.expandedUncertaintyC),
    barometer: barometer == null ? null : certificate(barometer, barometer.expandedUncertaintyHpa),
    hygrometer: hygrometer == null ? null : certificate(hygrometer, hygrometer.expandedUncertaintyPercent),
  };
}
