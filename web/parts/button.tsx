import type { ButtonHTMLAttributes, ReactNode } from 'react';
import { Link } from 'wouter';

type Look = 'primary' | 'plain' | 'quiet';

interface Looks {
  look?: Look;
  /** 48 px high, for gloves and wet fingers. */
  bench?: boolean;
}

const classOf = ({ look = 'plain', bench = false }: Looks): string =>
  `button button-${look}${bench ? ' button-bench' : ''}`;

type ButtonProps = ButtonHTMLAttributes<HTMLButtonElement> & Looks;

export function Button({ look, bench, type = 'button', className, ...rest }: ButtonProps) {
  const looks = classOf({ ...(look ? { look } : {}), ...(bench ? { bench } : {}) });
  return <button type={type} className={className ? `${looks} ${className}` : looks} {...rest} />;
}

export function LinkButton({ href, children, ...looks }: { href: string; children: ReactNode } & Looks) {
  return (
    <Link href={href} className={classOf(looks)}>
      {children}
    </Link>
  );
}
