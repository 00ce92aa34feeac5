/** Who may call a route. Each route declares it; the server does not start with a route that does not. */
import { ROLES, type Role, type Scope } from './contract.ts';
import type { ClassSession, ClassSessionKind } from './class-sessions.ts';

/**
 * `program`: a key for programs of any scope; other routes ask for the scope that fits the roles. `group`, `assistant`,
 * `board`: somebody of a class who came in with a code of its experiment.
 */
export type Caller = Role | 'program' | ClassSessionKind;
/** `open`: without sign-in, now and later. A list: these callers once people exist. */
export type Access = 'open' | readonly Caller[];

export const EVERYONE: Access = ROLES;
/** Registers vessels and instruments, weighs, corrects. */
export const BENCH: Access = ['keeper', 'technician'];
export const KEEPER: Access = ['keeper'];
/** Reads what was recorded, done and issued. */
export const RECORDS: Access = ['keeper', 'technician', 'auditor'];
/** Reads who works here; changes nothing. */
export const OVERSIGHT: Access = ['keeper', 'auditor'];
/** Computes, for programs too; nothing is stored. */
export const COMPUTING: Access = [...ROLES, 'program'];

/** Makes solutions, and decides about them. */
export const PREPARING: Access = ['keeper', 'technician', 'teacher'];
/** Plans a class experiment, runs it, closes and erases it. */
export const TEACHING: Access = ['keeper', 'teacher'];
/** Writes what a group weighed: the group itself, whoever teaches, and the one who enters for all. */
export const CLASS_ENTRY: Access = ['keeper', 'teacher', 'assistant', 'group'];
/** Sees which groups there are. */
export const CLASS_GROUPS: Access = [...ROLES, 'assistant'];
/** Makes groups that come by no phone of their own. */
export const CLASS_GROUP_MAKING: Access = ['keeper', 'teacher', 'assistant'];
/** Reads what one group weighed. */
export const CLASS_GROUP: Access = [...ROLES, 'assistant', 'group'];
/** Takes home what was found; a group its own page only. */
export const CLASS_PAPER: Access = [...ROLES, 'group'];
/** Reads the board of a class. */
export const CLASS_BOARD: Access = [...ROLES, 'assistant', 'board'];

/** Stands in the journal for every act made before the logbook knew people. */
export const UNNAMED_ACTOR = 'unnamed (before sign-in)';
/** Acts of a command run on the machine itself. */
export const CONSOLE_ACTOR = 'console';

/** Who is signed in. */
export interface Person {
  id: string;
  name: string;
  role: Role;
  mayIssue: boolean;
}

/** A key for a program. */
export interface Program {
  id: string;
  name: string;
  scope: Scope;
}

declare module 'fastify' {
  interface FastifyContextConfig {
    access?: Access;
    /** Also needs the permission to issue certificates. Keys for programs never have it. */
    mayIssue?: true;
    /** An act of a person: neither a key for programs nor anybody before people exist. */
    personOnly?: true;
    /** Creates, but takes no Idempotency-Key: its answer must not be kept. */
    keyless?: true;
    /** Answers whoever holds the token of a calendar, which stands in the address, and nobody else. */
    calendarFeed?: true;
    /** Also answers at the listener for classes. */
    classListener?: true;
  }
  interface FastifyRequest {
    actor: string;
    /** Null before sign-in, for keys and for commands. */
    person: Person | null;
    /** Set only where the route admits somebody of a class and nobody of the staff was found. */
    classSession: ClassSession | null;
  }
}
