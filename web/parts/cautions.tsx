import type { Basis, VesselKind } from '../../server/metrology/record.ts';
import { cautionsText } from '../messages/en-cautions.ts';
import { Caution } from './notice.tsx';

const PIPETTES: readonly VesselKind[] = ['single-volume-pipette', 'graduated-pipette'];
const TWO_HANDS_FROM_ML = 1000;

interface CautionsProps {
  vessel: { kind: VesselKind; nominalVolumeMl: string; basis: Basis };
}

/** What can happen with this vessel at the balance. */
export function WorkCautions({ vessel }: CautionsProps) {
  const words = cautionsText;
  return (
    <div className="stack tight">
      {PIPETTES.includes(vessel.kind) && <Caution title={words.pipetteCaution}>{words.pipetteCautionWhat}</Caution>}
      {vessel.kind === 'burette' && <Caution title={words.buretteCaution}>{words.buretteCautionWhat}</Caution>}
      {Number(vessel.nominalVolumeMl) >= TWO_HANDS_FROM_ML && (
        <Caution title={words.largeCaution}>{words.largeCautionWhat}</Caution>
      )}
      <Caution title={words.spillCaution}>{words.spillCautionWhat}</Caution>
    </div>
  );
}
