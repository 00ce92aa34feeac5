import { text } from '../messages/en.ts';
import { Choice, Select } from './field.tsx';
import { TAG_UNKNOWN, type TaggedVessels } from './vessel-chosen.ts';

/** As many stay in sight; more are a list to open. */
const MOST_IN_SIGHT = 8;

const words = text.vesselChoice;

interface VesselChoiceProps {
  /** Those the row names, in its order. */
  vessels: TaggedVessels;
  value: string;
  problem: string | undefined;
  onChange: (value: string) => void;
}

/** Which vessel of the register was filled; asked where a row names more than one. */
export function VesselChoice({ vessels, value, problem, onChange }: VesselChoiceProps) {
  if (vessels.length < 2) return null;
  const options = [
    ...vessels.map(({ id, tag }) => ({ value: id, label: tag })),
    { value: TAG_UNKNOWN, label: words.unknown },
  ];
  const field = { name: 'vesselId', label: words.label, options, value, problem, onChange };
  return vessels.length > MOST_IN_SIGHT ? <Select {...field} /> : <Choice {...field} />;
}
