import { useState } from 'react';
import type { Calibration } from '../../../server/calibrations/contract.ts';
import { type Receiver, rememberedReceiver, rememberReceiver } from './receiver.ts';

/** The way the receiver of a calibration is weighed; null for a vessel that is itself filled and weighed. */
export function useReceiver(calibration: Calibration): [Receiver | null, (changes: Partial<Receiver>) => void] {
  const { id, trials, basis } = calibration;
  const [receiver, setReceiver] = useState(() => rememberedReceiver(id, trials));
  const change = (changes: Partial<Receiver>): void => {
    const next = { ...receiver, ...changes };
    setReceiver(next);
    rememberReceiver(id, next);
  };
  return [basis === 'deliver' ? receiver : null, change];
}
