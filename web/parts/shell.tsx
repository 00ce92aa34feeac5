import { type ReactNode, Suspense, useEffect, useRef, useState } from 'react';
import { Link, useLocation } from 'wouter';
import { text } from '../messages/en.ts';
import { useLaboratory, useOpenCalibrations } from '../queries.ts';
import { useMay, useSession, useSignedOut } from '../session.ts';
import { later } from './later.tsx';
import { Unsent } from './unsent.tsx';

const SignInAgain = later(() => import('./sign-in-again.tsx'));
/** Pages that need nobody signed in: there the question is the page itself. */
const FOR_STRANGERS = new Set(['/sign-in', '/set-up']);

const ROOMS = [
  { href: '/', label: text.shell.rooms.today },
  { href: '/glassware', label: text.shell.rooms.glassware },
  { href: '/bench', label: text.shell.rooms.bench },
  { href: '/instruments', label: text.shell.rooms.instruments },
  { href: '/class', label: text.shell.rooms.class },
  { href: '/solutions', label: text.shell.rooms.solutions },
  { href: '/records', label: text.shell.rooms.records },
  { href: '/reference', label: text.shell.rooms.reference },
  { href: '/settings', label: text.shell.rooms.settings },
];

/** Deliveries belong to the glassware, under an address of their own. */
const roomOf = (path: string): string => path.replace(/^\/lots(?=\/|$)/, '/glassware');

const isWithin = (path: string, room: string): boolean =>
  room === '/' ? path === '/' : path === room || path.startsWith(`${room}/`);

/** The frame of every page: rooms on top, the open calibration one tap away, the page below. */
export function Shell({ children }: { children: ReactNode }) {
  const [path] = useLocation();
  const [open, setOpen] = useState(false);
  const rooms = useRef<HTMLElement>(null);
  useEffect(() => setOpen(false), [path]);
  // The rooms stand before the button in the page; whoever opens them goes on there.
  useEffect(() => {
    if (open) rooms.current?.querySelector('a')?.focus();
  }, [open]);
  const laboratory = useLaboratory();
  const session = useSession();
  const isSignedOut = useSignedOut();
  return (
    <>
      <a className="skip" href="#content">
        {text.shell.skip}
      </a>
      <header className="bar">
        <div className="bar-inner">
          <Link href="/" className="brand" aria-label={text.shell.name}>
            <BrandMark />
            <span>{text.shell.name}</span>
          </Link>
          <nav
            ref={rooms}
            className="rooms"
            id="rooms"
            aria-label={text.shell.navigation}
            data-open={open || undefined}
          >
            {ROOMS.map(({ href, label }) => (
              <Link key={href} href={href} aria-current={isWithin(roomOf(path), href) ? 'page' : undefined}>
                {label}
              </Link>
            ))}
          </nav>
          <div className="bar-end">
            <Unsent />
            <GoOn />
            <Who name={session.data?.person?.name} />
            <button
              type="button"
              className="menu-button"
              aria-expanded={open}
              aria-controls="rooms"
              onClick={() => setOpen(!open)}
            >
              {text.shell.menu}
            </button>
          </div>
        </div>
      </header>
      {laboratory.data?.demonstration && <aside className="banner">{text.shell.demonstration}</aside>}
      {laboratory.data?.journalFault && (
        <aside className="banner banner-fault" role="alert">
          {text.shell.journalFault(laboratory.data.journalFault.fault)}
        </aside>
      )}
      {session.data?.plainHttp && <aside className="banner">{text.shell.plainHttp}</aside>}
      <main id="content" tabIndex={-1}>
        {children}
      </main>
      {isSignedOut && !FOR_STRANGERS.has(path) && (
        <Suspense>
          <SignInAgain />
        </Suspense>
      )}
    </>
  );
}

function BrandMark() {
  return (
    <svg viewBox="0 0 24 24" aria-hidden="true" fill="none" stroke="currentColor" strokeWidth="2" strokeLinecap="round">
      <path d="M4 5v14M20 5v14M1.5 19h5M17.5 19h5" />
      <circle cx="10" cy="12" r="3" fill="currentColor" stroke="none" />
    </svg>
  );
}

/** Who is signed in; their own access and the way out are one tap away. */
function Who({ name }: { name: string | undefined }) {
  if (name === undefined) return null;
  return (
    <Link href="/settings/my-access" className="who" aria-label={text.shell.signedIn(name)}>
      {name}
    </Link>
  );
}

/** For whoever weighs: the calibration last worked on; with several open ones their list. */
function GoOn() {
  const open = useOpenCalibrations();
  const may = useMay();
  const items = open.data?.items ?? [];
  const latest = items[0];
  if (!latest || !may('bench')) return null;
  if (items.length > 1)
    return (
      <Link href="/bench" className="going-on" aria-label={text.shell.goOnMany(items.length)}>
        <span className="going-on-bead" aria-hidden="true" />
        {text.shell.goOnManyShort(items.length)}
      </Link>
    );
  return (
    <Link
      href={`/bench/${latest.id}`}
      className="going-on"
      aria-label={text.shell.goOn(latest.tag, latest.trialsRecorded, latest.trialsPlanned)}
    >
      <span className="going-on-bead" aria-hidden="true" />
      <strong>{latest.tag}</strong>
      <span className="quiet">{text.shell.progress(latest.trialsRecorded, latest.trialsPlanned)}</span>
    </Link>
  );
}
