import type { ClassGroup } from '../../../server/experiments/contract-class.ts';
import { assistText as words, benchText } from '../../messages/en-class.ts';
import { Button } from '../../parts/button.tsx';
import { Loading } from '../../parts/loading.tsx';
import { Notice } from '../../parts/notice.tsx';
import type { AssistDesk } from './assist-desk.ts';
import { groupNameOf } from './assist-groups.tsx';
import { Frame, type FrameParts } from './frame.tsx';
import { Steps } from './steps.tsx';
import { useGroup } from './use-group.ts';
import { WaitingList } from './waiting.tsx';

interface GroupAtDeskProps {
  desk: AssistDesk;
  group: ClassGroup;
  frame: FrameParts;
  isFromPaper: boolean;
  onList: () => void;
}

/** The steps of one group, entered for it; the list is one tap away, above and below. */
export function GroupAtDesk({ desk, group, frame, isFromPaper, onList }: GroupAtDeskProps) {
  const atWork = useGroup(desk.memoryOf(group.id), isFromPaper);
  const { page } = atWork.kept;
  const back = (
    <Button look="quiet" bench onClick={onList}>
      {words.allGroups}
    </Button>
  );
  return (
    <Frame title={groupNameOf(group)} lead={words.enterFor} {...frame} end={back} screen={group.id}>
      {page === null ? (
        !atWork.state.isAway && <Loading what={benchText.loading} />
      ) : (
        <div className="stack wide-gaps">
          {atWork.keepsNothing && <Notice tone="strong">{benchText.keepsNothing}</Notice>}
          {isFromPaper && <p className="quiet">{words.fromPaperNow}</p>}
          <WaitingList group={atWork} page={page} />
          <Steps group={atWork} page={page} />
          <div className="row">
            <Button bench onClick={onList}>
              {words.allGroups}
            </Button>
          </div>
        </div>
      )}
    </Frame>
  );
}
