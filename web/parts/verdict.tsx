import type { Verdict } from '../../server/metrology/result.ts';
import { text } from '../messages/en.ts';

// Posts stand at x = 7 and x = 19 with a foot each; the bead has radius 3. Told apart by shape, without colour.
const POSTS = 'M7 3v12M19 3v12M5 15h4M17 15h4';

interface Mark {
  posts: boolean;
  /** x of the bead. */
  beadAt?: number;
  line?: string;
  dashed?: boolean;
}

const MARKS: Record<Verdict, Mark> = {
  pass: { posts: true, beadAt: 13 },
  'conditional-pass': { posts: true, beadAt: 15.2 },
  'conditional-fail': { posts: true, beadAt: 22.8 },
  fail: { posts: true, beadAt: 26.5, line: 'M19 9h5' },
  'not-decidable': { posts: true, line: 'M2 9h22', dashed: true },
  'none-stated': { posts: false, line: 'M2 9h22', beadAt: 13 },
};

const isVerdict = (value: string): value is Verdict => value in MARKS;

interface VerdictMarkProps {
  verdict: string | null;
  /** A quiet word behind: `so far`. */
  aside?: string;
}

/** Mark and word of a verdict; a quiet dash and words while there is none. */
export function VerdictMark({ verdict, aside }: VerdictMarkProps) {
  if (verdict === null || !isVerdict(verdict))
    return <span className="verdict verdict-not-yet">{text.strip.notYet}</span>;
  const mark = MARKS[verdict];
  return (
    <span className={`verdict verdict-${verdict}`}>
      <svg className="verdict-mark" viewBox="0 0 30 18" aria-hidden="true">
        {mark.posts && <path d={POSTS} />}
        {mark.line && <path d={mark.line} strokeDasharray={mark.dashed ? '3 3' : undefined} />}
        {mark.beadAt && <circle cx={mark.beadAt} cy="9" r="3" fill="currentColor" stroke="none" />}
      </svg>
      <span>
        {text.words.verdicts[verdict]}
        {aside && <span className="verdict-aside"> {aside}</span>}
      </span>
    </span>
  );
}
