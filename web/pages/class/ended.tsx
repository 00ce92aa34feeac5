import type { GroupPage } from '../../../server/experiments/contract-class.ts';
import { endText as words } from '../../messages/en-class.ts';
import { Button } from '../../parts/button.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Found } from './found.tsx';
import { Frame } from './frame.tsx';
import type { Place } from './place.ts';
import { stepsOf } from './step.ts';
import type { Group } from './use-group.ts';
import { wordsOf } from './waiting.tsx';

interface EndedProps {
  group: Group;
  page: GroupPage | null;
  go: (to: Place) => void;
}

/** The lesson is over for this phone: it says so and shows what its group measured. */
export function Ended({ group: { memory, kept }, page, go }: EndedProps) {
  const isClosed = page?.experiment.state === 'closed';
  const measured = page === null ? [] : stepsOf(page, []).filter(({ trials }) => trials.length > 0);
  const forget = () => {
    memory.forget();
    go('join');
  };
  return (
    <Frame
      title={isClosed ? words.closedTitle : words.title}
      lead={measured.length === 0 ? words.nothing : isClosed ? words.closedWhat : words.what}
      end={<span className="class-name">{kept.name}</span>}
      screen="ended"
    >
      <div className="stack wide-gaps">
        {kept.waiting.length > 0 && (
          <Notice tone="strong">
            <p>{words.unsent(kept.waiting.length)}</p>
            <ul>
              {kept.waiting.map((one) => (
                <li key={one.key}>{wordsOf(one, page)}</li>
              ))}
            </ul>
          </Notice>
        )}
        {measured.map((step) => (
          <section key={step.row.key} className="class-ended-row">
            <h2>{step.row.label}</h2>
            <Found group={null} step={step} />
          </section>
        ))}
        <div className="row">
          {!isClosed && (
            <Button look="primary" bench onClick={() => go('join')}>
              {words.back}
            </Button>
          )}
          <Button look="quiet" bench onClick={forget}>
            {words.forget}
          </Button>
        </div>
        <p className="small quiet">{words.forgetWhat}</p>
      </div>
    </Frame>
  );
}
