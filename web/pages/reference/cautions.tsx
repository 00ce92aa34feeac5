import { practiceText } from '../../messages/en-practice.ts';
import { Caution } from '../../parts/notice.tsx';
import { RoomHeader } from './parts.tsx';

const words = practiceText.cautions;

export function CautionsPage() {
  return (
    <>
      <RoomHeader room="cautions" lead={words.lead} />
      <div className="stack">
        <Caution>{words.first}</Caution>
        <ul className="plain cautions">
          {words.list.map(({ title, say }) => (
            <li key={title}>
              <h2>{title}</h2>
              <p>{say}</p>
            </li>
          ))}
        </ul>
      </div>
    </>
  );
}
