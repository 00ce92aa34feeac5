/** Temperatures, balance and air of a solution as typed, and as the body names them. */
import type { FieldReader } from './reading.ts';

export interface TemperatureDraft {
  temperatureC: string;
  temperatureHalfWidthC: string;
  quotedAtC: string;
  expansionPerK: string;
}
export const USUAL_TEMPERATURE: TemperatureDraft = {
  temperatureC: '20',
  temperatureHalfWidthC: '3',
  quotedAtC: '20',
  expansionPerK: '',
};

/** @param at place of the temperatures in the body, with its stroke, or nothing */
export const readTemperatures = (reader: FieldReader, at: string, draft: TemperatureDraft) => ({
  ...readTemperature(reader, at, draft),
  quotedAtC: reader.number(`${at}quotedAtC`, draft.quotedAtC, '°C'),
  ...reader.optional('expansionPerK', `${at}expansionPerK`, draft.expansionPerK),
});

export const readTemperature = (
  reader: FieldReader,
  at: string,
  draft: Pick<TemperatureDraft, 'temperatureC' | 'temperatureHalfWidthC'>,
) => ({
  temperatureC: reader.number(`${at}temperatureC`, draft.temperatureC, '°C'),
  temperatureHalfWidthC: reader.number(`${at}temperatureHalfWidthC`, draft.temperatureHalfWidthC, '°C'),
});

export interface WeighingDraft {
  balanceId: string;
  adjustedToday: boolean;
  buoyancyOff: boolean;
  airTemperatureC: string;
  airPressureHpa: string;
  relativeHumidityPercent: string;
}
export const NO_WEIGHING: WeighingDraft = {
  balanceId: '',
  adjustedToday: false,
  buoyancyOff: false,
  airTemperatureC: '',
  airPressureHpa: '',
  relativeHumidityPercent: '',
};

export const readWeighing = (reader: FieldReader, draft: WeighingDraft) => ({
  ...(draft.balanceId === '' ? {} : { balanceId: draft.balanceId }),
  adjustedToday: draft.adjustedToday,
  buoyancy: draft.buoyancyOff ? 'off' : 'on',
  air: {
    ...reader.optional('airTemperatureC', 'air/airTemperatureC', draft.airTemperatureC, '°C'),
    ...reader.optional('airPressureHpa', 'air/airPressureHpa', draft.airPressureHpa, 'hPa'),
    ...reader.optional('relativeHumidityPercent', 'air/relativeHumidityPercent', draft.relativeHumidityPercent, '%'),
  },
});
