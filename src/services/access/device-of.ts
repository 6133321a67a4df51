/** What a browser says of itself, as far as its owner would know it again. */
export interface Device {
  readonly browser: string | null
  readonly system: string | null
}

/** In this order: most browsers also name those that they want to be taken for. */
const BROWSERS: readonly (readonly [sign: RegExp, name: string])[] = [
  [/\bEdg(?:e|A|iOS)?\//, 'Edge'],
  [/\bOPR\//, 'Opera'],
  [/\bSamsungBrowser\//, 'Samsung Internet'],
  [/\b(?:Firefox|FxiOS)\//, 'Firefox'],
  [/\b(?:Chrome|CriOS|Chromium|HeadlessChrome)\//, 'Chrome'],
  [/\bVersion\/[\d.]+.*\bSafari\//, 'Safari'],
]
const SYSTEMS: readonly (readonly [sign: RegExp, name: string])[] = [
  [/\biPhone\b/, 'iPhone'],
  [/\biPad\b/, 'iPad'],
  [/\bAndroid\b/, 'Android'],
  [/\bCrOS\b/, 'ChromeOS'],
  [/\bWindows\b/, 'Windows'],
  [/\bMac OS X\b|\bMacintosh\b/, 'macOS'],
  [/\bLinux\b/, 'Linux'],
]

/**
 * Browser and system out of a user agent (RFC 9110, 10.1.5), by the signs that they have in common practice.
 *
 * @example deviceOf('Mozilla/5.0 (Android 14; Mobile; rv:128.0) Gecko/128.0 Firefox/128.0') // { browser: 'Firefox', system: 'Android' }
 */
export function deviceOf(userAgent: string | null): Device {
  return { browser: named(BROWSERS, userAgent), system: named(SYSTEMS, userAgent) }
}

function named(list: typeof BROWSERS, userAgent: string | null): string | null {
  return list.find(([sign]) => sign.test(userAgent ?? ''))?.[1] ?? null
}
