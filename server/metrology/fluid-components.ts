import { airFormulaExtrapolated } from './air-density.ts';
import type { Component, ComponentName, Part } from './component.ts';
import { combine, normal, rectangular } from './component.ts';
import { TAP_WATER_PER_CONDUCTIVITY, TAP_WATER_UNMEASURED, WEIGHTS_DENSITY } from './constants.ts';
import { numberOf } from './decimal.ts';
import type { CertificateNumbers, InstrumentNumbers } from './instrument-numbers.ts';
import type { MeanInputs } from './mean-inputs.ts';
import { typedHalfWidth } from './mean-inputs.ts';
import type { Sensitivities } from './sensitivity.ts';
import { AIR_FORMULA_EXTRAPOLATED, AIR_FORMULA_STATED, DEFAULTS } from './uncertainty-defaults.ts';
import { WATER_DENSITY_FORMULA } from './water-density.ts';

/** Degrees of freedom of a sum of which only the certificate's part has a finite number. */
function spreadOver(degrees: number | null, certificatePart: number, whole: number): number | null {
  return degrees === null || certificatePart === 0 ? null : degrees * (whole / certificatePart) ** 4;
}

interface Temperature {
  parts: Part[];
  degreesOfFreedom: number | null;
  source: string;
  assumed: boolean;
}

function waterThermometer(thermometer: InstrumentNumbers['thermometer'], inputs: MeanInputs): Temperature {
  if (inputs.waterHalfWidthC !== null) {
    const parts = [rectangular(inputs.waterHalfWidthC)];
    return { parts, degreesOfFreedom: null, source: 'assumed temperature, half-width typed', assumed: true };
  }
  if (thermometer === null) {
    const parts = [rectangular(DEFAULTS.thermometerHalfWidthC.value)];
    return { parts, degreesOfFreedom: null, source: 'default, no thermometer named', assumed: true };
  }
  const { expanded, coverageFactor } = thermometer;
  const known = expanded !== null;
  const scale = known ? normal(expanded / coverageFactor) : rectangular(DEFAULTS.thermometerHalfWidthC.value);
  const step = thermometer.resolutionC ?? inputs.waterStepC;
  const gradient = thermometer.gradientC ?? DEFAULTS.gradientC.value;
  const parts = [scale, rectangular(step / 2), rectangular(gradient)];
  return {
    parts,
    degreesOfFreedom: known ? spreadOver(thermometer.degreesOfFreedom, combine([scale]), combine(parts)) : null,
    source: known ? 'certificate, last digit, gradient' : 'default, last digit, gradient',
    assumed: !known,
  };
}

function purity(inputs: MeanInputs): { parts: Part[]; source: string; assumed: boolean } {
  const { waterGrade, conductivityUsPerCm } = inputs.conditions;
  if (waterGrade !== 'tap') {
    const stated = waterGrade != null && waterGrade !== 'not-stated';
    return { parts: [], source: stated ? waterGrade : 'grade not stated', assumed: !stated };
  }
  if (conductivityUsPerCm == null) {
    return {
      parts: [rectangular(TAP_WATER_UNMEASURED.value)],
      source: 'tap, conductivity not measured',
      assumed: true,
    };
  }
  const correction = TAP_WATER_PER_CONDUCTIVITY.value * numberOf(conductivityUsPerCm);
  return {
    parts: [rectangular(DEFAULTS.tapCorrectionShare.value * correction)],
    source: 'tap, 30 % of the correction',
    assumed: false,
  };
}

/**
 * What the water adds: its temperature, the density formula, what is dissolved in it.
 * @source tanaka-2001, standard uncertainty of the formula; temperature and purity by certificate or default
 */
export function waterComponents(
  thermometer: InstrumentNumbers['thermometer'],
  inputs: MeanInputs,
  by: Sensitivities,
): Component[] {
  const warmth = waterThermometer(thermometer, inputs);
  const clean = purity(inputs);
  return [
    {
      component: 'water-temperature',
      value: inputs.waterC,
      unit: '°C',
      sensitivity: by.perWaterK,
      parts: warmth.parts,
      degreesOfFreedom: warmth.degreesOfFreedom,
      source: warmth.source,
      assumed: warmth.assumed,
    },
    {
      component: 'water-density',
      value: inputs.waterKgPerM3,
      unit: 'kg/m3',
      parts: [normal(WATER_DENSITY_FORMULA.standardUncertainty ?? 0)],
      sensitivity: by.perWaterKgPerM3,
      degreesOfFreedom: null,
      source: 'formula, Tanaka 2001',
      assumed: false,
    },
    {
      component: 'water-purity',
      value: null,
      unit: '1',
      sensitivity: -inputs.volumeMl,
      degreesOfFreedom: null,
      parts: clean.parts,
      source: clean.source,
      assumed: clean.assumed,
    },
  ];
}

interface AirInput {
  component: ComponentName;
  value: number;
  unit: string;
  measured: boolean;
  typed: number | null;
  certificate: CertificateNumbers | null;
  fallback: number;
  sensitivity: number;
}

/** A half-width typed in the conditions wins over the instrument, the instrument over the default. */
function airInput(input: AirInput): Component {
  const { component, value, unit, measured, typed, certificate, fallback, sensitivity } = input;
  const expanded = measured && typed === null ? (certificate?.expanded ?? null) : null;
  const known = certificate !== null && expanded !== null;
  const part = known ? normal(expanded / certificate.coverageFactor) : rectangular(typed ?? fallback);
  return {
    component,
    value,
    unit,
    parts: [part],
    sensitivity,
    degreesOfFreedom: known ? certificate.degreesOfFreedom : null,
    source: typed !== null ? 'half-width typed' : known ? 'certificate' : 'default half-width',
    assumed: !known && typed === null,
  };
}

/**
 * What the air adds: temperature, pressure, humidity, the density formula, and the weights the balance stands for.
 * @source cipm-2007, relative standard uncertainty of the formula; the inputs by certificate, typed or default
 */
export function airComponents(
  instruments: InstrumentNumbers,
  inputs: MeanInputs,
  by: Sensitivities,
  altitudeSet: boolean,
): Component[] {
  const { conditions, measured, air } = inputs;
  const pressureKnown = measured.pressure || altitudeSet;
  const pressure = pressureKnown ? DEFAULTS.airPressureKnownHpa : DEFAULTS.airPressureUnknownHpa;
  const formula = airFormulaExtrapolated(inputs.airC) ? AIR_FORMULA_EXTRAPOLATED : AIR_FORMULA_STATED;
  return [
    airInput({
      component: 'air-temperature',
      value: inputs.airC,
      unit: '°C',
      measured: measured.temperature,
      typed: typedHalfWidth(conditions, 'airTemperatureHalfWidthC'),
      certificate: instruments.airThermometer,
      fallback: DEFAULTS.airTemperatureC.value,
      sensitivity: by.perAirKgPerM3 * air.perC,
    }),
    airInput({
      component: 'air-pressure',
      value: inputs.pressureHpa,
      unit: 'hPa',
      measured: measured.pressure,
      typed: typedHalfWidth(conditions, 'airPressureHalfWidthHpa'),
      certificate: instruments.barometer,
      fallback: pressure.value,
      sensitivity: by.perAirKgPerM3 * air.perHpa,
    }),
    airInput({
      component: 'air-humidity',
      value: inputs.humidityPercent,
      unit: '%',
      measured: measured.humidity,
      typed: typedHalfWidth(conditions, 'relativeHumidityHalfWidthPercent'),
      certificate: instruments.hygrometer,
      fallback: DEFAULTS.humidityPercent.value,
      sensitivity: by.perAirKgPerM3 * air.perPercent,
    }),
    {
      component: 'air-density-formula',
      value: air.densityKgPerM3,
      unit: 'kg/m3',
      parts: [normal(air.densityKgPerM3 * formula.value)],
      sensitivity: by.perAirKgPerM3,
      degreesOfFreedom: null,
      source: 'formula, CIPM-2007',
      assumed: false,
    },
    {
      component: 'weights-density',
      value: WEIGHTS_DENSITY.value,
      unit: 'kg/m3',
      parts: [rectangular(DEFAULTS.weightsDensity.value)],
      sensitivity: by.perWeightsKgPerM3,
      degreesOfFreedom: null,
      source: 'conservative: the convention leaves almost nothing',
      assumed: false,
    },
  ];
}
