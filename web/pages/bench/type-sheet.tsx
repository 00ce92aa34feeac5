import { Link, useLocation } from 'wouter';
import { benchRoomText } from '../../messages/en-bench.ts';
import { startText } from '../../messages/en-start.ts';
import { AddByTag } from '../labels/add-by-tag.tsx';
import '../bench-room.css';

const FROM_SHEET = 'from=sheet';

/** The tag as it stands on the sheet, or its code under a scanner, leads to typing it in. */
export default function TypeSheet({ help }: { help: string }) {
  const [, go] = useLocation();
  return (
    <div className="stack">
      <p className="quiet">{help}</p>
      <AddByTag
        label={benchRoomText.sheetTag}
        act={startText.typeSheet}
        onFound={(id, { latest }) =>
          go(latest?.state === 'open' ? `/bench/${latest.id}?${FROM_SHEET}` : `/bench/new?vessel=${id}&${FROM_SHEET}`)
        }
      />
      <p>
        <Link className="link-line" href="/glassware/sheets">
          {benchRoomText.printSheets}
        </Link>
      </p>
    </div>
  );
}
