/** The certificate of one calibration as data: a Digital Calibration Certificate 3.3.0 with quantities of D-SI 2.2.1. */
import Builder from 'fast-xml-builder';
import type { Issued, IssueEntry, Signature } from '../issued.ts';
import {
  basisStatement,
  DEMONSTRATION,
  ITEM_ONLY,
  itemCondition,
  itemFacts,
  moment,
  NO_ADDRESS,
  NO_LABORATORY,
  replacesStatement,
  signatureRemark,
  type Fact,
} from '../statements.ts';
import { kindWords } from '../words.ts';
import { complaints } from './check.ts';
import { text, token, type Element } from './element.ts';
import { measurementResults } from './results.ts';

const DCC_VERSION = '3.3.0';
/** From the range ISO 3166-1 leaves to its users, where nobody said in which country the laboratory stands. */
const COUNTRY_NOT_KNOWN = 'XX';

/** @throws Error when what would be written breaks a rule no schema sees */
export function certificateXml(issued: Issued, entry: IssueEntry): Buffer {
  const document = certificateDocument(issued, entry);
  const wrong = complaints(document);
  if (wrong.length > 0) throw new Error(`Certificate ${issued.number} as XML: ${wrong.join(' ')}`);
  return written(document);
}

/** A document of elements as UTF-8 text. */
export function written(document: Element): Buffer {
  const builder = new Builder({ attributeNamePrefix: '@', textNodeName: '#', ignoreAttributes: false, format: true });
  return Buffer.from(`<?xml version="1.0" encoding="UTF-8"?>\n${builder.build(document)}`, 'utf8');
}

export const certificateDocument = (issued: Issued, entry: IssueEntry): Element => ({
  'dcc:digitalCalibrationCertificate': {
    '@xmlns:dcc': 'https://ptb.de/dcc',
    '@xmlns:si': 'https://ptb.de/si',
    '@xmlns:xsi': 'http://www.w3.org/2001/XMLSchema-instance',
    '@xsi:schemaLocation': `https://ptb.de/dcc https://ptb.de/dcc/v${DCC_VERSION}/dcc.xsd`,
    '@schemaVersion': DCC_VERSION,
    'dcc:administrativeData': {
      'dcc:dccSoftware': {
        'dcc:software': {
          'dcc:name': text('Tarebook'),
          'dcc:release': token(issued.program),
          'dcc:type': 'application',
        },
      },
      'dcc:coreData': coreData(issued),
      'dcc:items': { 'dcc:item': item(issued) },
      'dcc:calibrationLaboratory': { 'dcc:contact': laboratory(issued) },
      'dcc:respPersons': { 'dcc:respPerson': issued.signatures.map(person) },
      'dcc:customer': laboratory(issued),
      'dcc:statements': { 'dcc:statement': statements(issued, entry) },
    },
    'dcc:measurementResults': measurementResults(issued),
  },
});

const coreData = ({ number, begunOn, endedOn, issuedOn, replaces, laboratory }: Issued): Element => ({
  'dcc:countryCodeISO3166_1': laboratory.countryCode ?? COUNTRY_NOT_KNOWN,
  'dcc:usedLangCodeISO639_1': 'en',
  'dcc:mandatoryLangCodeISO639_1': 'en',
  'dcc:uniqueIdentifier': number,
  'dcc:beginPerformanceDate': begunOn,
  'dcc:endPerformanceDate': endedOn,
  'dcc:performanceLocation': 'laboratory',
  'dcc:issueDate': issuedOn,
  ...(replaces === null
    ? {}
    : {
        'dcc:reportAmendedSubstituted': {
          // An amendment is issued whole, under a number of its own.
          'dcc:typeOfChange': 'substituted',
          'dcc:replacedUniqueIdentifier': replaces.number,
        },
      }),
});

const pairs = (facts: readonly Fact[]): string => facts.map(([label, value]) => `${label}: ${value}.`).join('\n');

function item(issued: Issued): Element {
  const { vessel, record } = issued;
  return {
    '@id': 'item',
    'dcc:name': text(`${kindWords[record.vessel.kind]} ${record.vessel.nominalVolumeMl} mL`),
    'dcc:description': text(pairs([...itemFacts(issued), ...itemCondition(issued)])),
    ...(vessel.maker === null ? {} : { 'dcc:manufacturer': { 'dcc:name': text(vessel.maker) } }),
    'dcc:identifications': {
      'dcc:identification': [
        { 'dcc:issuer': 'owner', 'dcc:value': token(vessel.tag), 'dcc:name': text('Tag') },
        ...(vessel.serial === null
          ? []
          : [{ 'dcc:issuer': 'manufacturer', 'dcc:value': token(vessel.serial), 'dcc:name': text('Serial number') }]),
      ],
    },
  };
}

const laboratory = ({ laboratory: { name, address } }: Issued): Element => ({
  'dcc:name': text(name ?? NO_LABORATORY),
  'dcc:location': { 'dcc:further': text(address ?? NO_ADDRESS) },
});

function person(signature: Signature): Element {
  const remark = signatureRemark(signature);
  return {
    'dcc:person': { 'dcc:name': text(signature.name) },
    'dcc:description': text(`${signature.meaning} ${moment(signature.at)}${remark === '' ? '' : `; ${remark}`}`),
    'dcc:role': signature.meaning,
    'dcc:mainSigner': String(signature.meaning === 'issued'),
    'dcc:cryptElectronicSignature': 'false',
  };
}

function statements(issued: Issued, entry: IssueEntry): Element[] {
  const replaces = replacesStatement(issued);
  const statement = (name: string, words: string): Element => ({
    'dcc:name': text(name),
    'dcc:declaration': text(words),
  });
  return [
    ...(issued.demonstration ? [statement('Demonstration', `${DEMONSTRATION}.`)] : []),
    statement('Validity', ITEM_ONLY),
    ...(replaces === null ? [] : [statement('Replacement', replaces)]),
    statement('Tolerance', basisStatement(issued)),
    ...(issued.dueOn === null
      ? []
      : [statement('Due again', `The laboratory asks for a calibration by ${issued.dueOn}.`)]),
    statement(
      'Journal',
      `Issued with entry ${entry.number} of the journal, SHA-256 ${entry.hash}; hash of the frozen content ${entry.frozenHash}.`,
    ),
  ];
}
