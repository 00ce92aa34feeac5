import { type ReactNode, useId } from 'react';
import { Link } from 'wouter';
import { practiceText, type Statement } from '../../messages/en-practice.ts';
import { referenceText } from '../../messages/en-reference.ts';
import { PageHeader } from '../../parts/page.tsx';
import { ROOM_GROUPS, type ReferenceRoom } from './data.ts';

export const HOME = { href: '~/reference', label: referenceText.back };

/** A part of the reference with its heading; the way to the other parts stands beside it where there is room. */
export function RoomHeader({ room, lead }: { room: ReferenceRoom; lead?: ReactNode }) {
  return <PageHeader title={referenceText.rooms[room].title} within={HOME} lead={lead} />;
}

export function ReferenceNavigation({ at }: { at: string }) {
  return (
    <nav className="reference-nav no-print" aria-label={referenceText.navigation}>
      {ROOM_GROUPS.map(({ group, rooms }) => (
        <ul className="plain" key={group}>
          {rooms.map((room) => (
            <li key={room}>
              <Link href={`/${room}`} aria-current={at === room ? 'page' : undefined}>
                {referenceText.rooms[room].title}
              </Link>
            </li>
          ))}
        </ul>
      ))}
    </nav>
  );
}

/** A table that scrolls sideways by itself, also by keyboard, when the screen is narrow. */
export function WideTable({ caption, children }: { caption: ReactNode; children: ReactNode }) {
  const id = useId();
  return (
    <div className="table-box" tabIndex={0} role="region" aria-labelledby={id}>
      <table className="table">
        <caption id={id}>{caption}</caption>
        {children}
      </table>
    </div>
  );
}

/** What people say about good work, each with where it comes from. */
export function Statements({ of }: { of: readonly Statement[] }) {
  return (
    <ul className="statements">
      {of.map(({ say, from }) => (
        <li key={say}>
          {say} <span className="quiet small">{practiceText.from(from)}</span>
        </li>
      ))}
    </ul>
  );
}

/** Digits of a number as a table has them, without the dust of binary fractions. */
export const plainNumber = (value: number): string => String(Number(value.toPrecision(12)));

/** Digits behind the decimal mark of the longest of these numbers. */
export const mostDecimals = (values: readonly (number | null)[]): number =>
  Math.max(0, ...values.map((value) => (value === null ? 0 : (plainNumber(value).split('.')[1] ?? '').length)));

/** A number that stands with its decimal mark under the others; no zero is made up for it. */
export function AlignedNumber({ value, decimals, unit }: { value: number; decimals: number; unit?: string }) {
  const shown = plainNumber(value);
  const fraction = (shown.split('.')[1] ?? '').length;
  const missing = (fraction === 0 && decimals > 0 ? '.' : '') + '0'.repeat(decimals - fraction);
  return (
    <span className="quantity">
      {shown}
      {unit && <span className="quantity-unit">{`\u202f${unit}`}</span>}
      <span className="number-pad" aria-hidden="true">
        {missing}
      </span>
    </span>
  );
}
