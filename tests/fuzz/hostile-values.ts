import fc from 'fast-check'

/** Texts that have broken services before: for the database, the page, the shell, the file system, the spreadsheet, the eye. */
const TEXTS = [
  '',
  ' ',
  '\0',
  'Wr\0en',
  // Half of a pair (Unicode 15, 3.9, D71 and D73).
  '\ud800',
  'a\udfff b',
  '\ufeffboat',
  '\u202Eexe.gpj',
  'e\u0301'.repeat(20),
  "'; drop table boats; --",
  "' or '1'='1",
  '%_\\',
  '$1 {{x}} %s %n',
  '<script>alert(1)</script>',
  '"><img src=x onerror=alert(1)>',
  'javascript:alert(1)',
  '../../../../etc/passwd',
  '..%2f..%2fetc%2fpasswd',
  '%2e%2e%5c%00',
  'C:\\con\\nul',
  '=cmd|"/c calc"!A1',
  '+1+1',
  '@SUM(A1)',
  '\r\nset-cookie: a=b',
  'null',
  'undefined',
  '[object Object]',
  'NaN',
  '-0',
  '1e309',
  '0x10',
  '9'.repeat(400),
  '00000000-0000-0000-0000-000000000000',
  'ffffffff-ffff-ffff-ffff-ffffffffffff',
  '__proto__',
  'constructor',
  'toString',
  'L'.repeat(100_000),
]

/** ISO 8601 by its letter, the ends of what dates can be in PostgreSQL and JavaScript, and days that never were. */
const DATES = [
  '0000-01-01',
  '0001-01-01',
  '-4713-11-24',
  '1582-10-10',
  '1900-02-29',
  '2031-02-30',
  '2031-13-01',
  '9999-12-31',
  '275760-09-13',
  '+275760-09-13',
  '5874897-12-31',
  'infinity',
  '2031-04-18T09:30:00Z',
  '2031-04-18T24:00:00Z',
  '2031-04-18T23:59:60Z',
  '0000-01-01T00:00:00Z',
  '9999-12-31T23:59:59.999999999Z',
  '2031-04-18T09:30:00+23:59',
  '2031-4-8',
  'today',
]

const NUMBERS = [
  0,
  -0,
  -1,
  0.1 + 0.2,
  1e-320,
  Number.MIN_VALUE,
  Number.EPSILON,
  1e308,
  -1e308,
  Number.MAX_VALUE,
  Number.MAX_SAFE_INTEGER + 2,
  2 ** 31,
  2 ** 63,
  -(2 ** 63) - 1025,
]

export const hostileText = fc.oneof(
  { weight: 6, arbitrary: fc.constantFrom(...TEXTS) },
  { weight: 3, arbitrary: fc.constantFrom(...DATES) },
  { weight: 1, arbitrary: fc.string({ unit: 'binary', maxLength: 60 }) },
)

/** Members that reach an object's prototype where somebody copies them one by one. */
const PROTOTYPES = ['{"__proto__":{"role":"administrator"}}', '{"constructor":{"prototype":{"role":"administrator"}}}']

/** Any value that a member may be given instead of its own. */
export const hostileValue: fc.Arbitrary<unknown> = fc.oneof(
  { weight: 5, arbitrary: hostileText },
  { weight: 4, arbitrary: fc.constantFrom<unknown>(...NUMBERS) },
  { weight: 3, arbitrary: fc.constantFrom<unknown>(null, true, false, [], {}, [[]], [null], { id: 1 }) },
  { weight: 1, arbitrary: fc.constantFrom(...PROTOTYPES).map((text) => JSON.parse(text)) },
  { weight: 1, arbitrary: fc.nat({ max: 3000 }).map((count) => Array(count).fill(0)) },
  { weight: 1, arbitrary: fc.jsonValue({ maxDepth: 4 }) },
)

/** Bodies as they arrive, JSON or not. */
export const hostileBody: fc.Arbitrary<string> = fc.oneof(
  { weight: 4, arbitrary: hostileValue.map((value) => JSON.stringify(value)) },
  {
    weight: 2,
    arbitrary: fc.constantFrom('', '{', '[', '"', '{"a":1,}', 'nul', '\0', '\ufeff{}', '{"a":1e999}', '-', "{'a':1}"),
  },
  { weight: 1, arbitrary: fc.constantFrom(...PROTOTYPES) },
  { weight: 1, arbitrary: fc.nat({ max: 100_000 }).map((depth) => '['.repeat(depth) + ']'.repeat(depth)) },
  { weight: 1, arbitrary: fc.nat({ max: 20_000 }).map((depth) => `${'{"a":'.repeat(depth)}1${'}'.repeat(depth)}`) },
  { weight: 1, arbitrary: fc.string({ unit: 'binary', maxLength: 200 }) },
)

export const hostileMediaType = fc.constantFrom(
  'application/json',
  'application/json; charset=utf-16',
  'application/problem+json',
  'text/plain',
  'application/xml',
  'application/x-www-form-urlencoded',
  'multipart/form-data',
  'multipart/form-data; boundary=',
  'multipart/form-data; boundary=x',
  'application/octet-stream',
  'json',
  '*/*',
  '; ; ;',
)

/** Headers that the service reads, with what nobody should send. */
export const hostileHeaders: fc.Arbitrary<Record<string, string>> = fc.dictionary(
  fc.constantFrom(
    ...['if-match', 'if-none-match', 'idempotency-key', 'accept', 'accept-language', 'x-organisation'],
    ...['x-forwarded-for', 'x-forwarded-host', 'origin', 'range', 'cookie', 'user-agent', 'expect-ct', 'x-request-id'],
  ),
  fc.constantFrom(
    ...['', '*', '"1"', 'W/"1"', '"1", "2"', '"', '-1', 'a\tb', 'x'.repeat(4000), '*/*;q=x', 'text/csv;q=0'],
    ...['application/zip', 'image/png', 'null', 'http://evil.example', 'de-DE-x-y;q=9', 'bytes=0-', '\u00e9\u00ff'],
    ...['00000000-0000-4000-8000-000000000000', '../../etc/passwd', "' or 1=1 --", '=;;=;a=b', '127.0.0.1, 1.2.3.4'],
  ),
  { maxKeys: 3 },
)
