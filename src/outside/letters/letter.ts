/** A picture inside a letter, referred to by its content id (RFC 2392). */
export interface LetterPicture {
  readonly cid: string
  readonly filename: string
  readonly png: Buffer
}

/** What a letter says, in the order in which it is read: told as plain text and as HTML alike. */
export type Block =
  | { readonly kind: 'lead' | 'heading' | 'text' | 'small'; readonly text: string }
  | { readonly kind: 'list'; readonly items: readonly string[] }
  | { readonly kind: 'caution'; readonly title: string; readonly text: string }
  | { readonly kind: 'picture'; readonly cid: string; readonly alt: string; readonly caption: string }
  | { readonly kind: 'button' | 'link'; readonly label: string; readonly url: string }

/** A letter before it has an address. */
export interface WrittenLetter {
  readonly subject: string
  readonly blocks: readonly Block[]
  readonly pictures: readonly LetterPicture[]
}

/** Lines of plain text longer than this are broken, as RFC 3676 advises for those who read without wrapping. */
const LINE = 76

export function plainText({ blocks }: WrittenLetter): string {
  const parts = blocks.map(textOf).filter((part) => part !== '')
  return `${parts.join('\n\n')}\n`
}

function textOf(block: Block): string {
  switch (block.kind) {
    case 'heading':
      return block.text.toUpperCase()
    case 'lead':
    case 'text':
    case 'small':
      return wrapped(block.text)
    case 'list':
      return block.items.map((item) => wrapped(`- ${item}`, '  ')).join('\n')
    case 'caution':
      return wrapped(`! ${block.title} ${block.text}`, '  ')
    case 'picture':
      return ''
    case 'button':
    case 'link':
      return `${block.label}:\n${block.url}`
  }
}

function wrapped(text: string, indent = ''): string {
  const lines: string[] = []
  let line = ''
  for (const word of text.split(/\s+/)) {
    if (line !== '' && line.length + 1 + word.length > LINE) {
      lines.push(line)
      line = indent + word
    } else line = line === '' ? word : `${line} ${word}`
  }
  return [...lines, line].join('\n')
}

/**
 * The letter as HTML for mail programs: one column (a table of fixed width for programs that know no greatest width), styles on the
 * elements, no picture from outside, colours that survive a dark mode's turning round of them.
 */
export function html(letter: WrittenLetter, language: string): string {
  const body = letter.blocks.map(htmlOf).join('\n')
  return `<!doctype html>
<html lang="${language}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${escaped(letter.subject)}</title>
</head>
<body style="margin:0;padding:0">
<table role="presentation" width="100%" cellpadding="0" cellspacing="0" border="0"><tr><td align="center">
<!--[if mso]><table role="presentation" width="600" cellpadding="0" cellspacing="0" border="0"><tr><td><![endif]-->
<div style="max-width:600px;padding:20px 16px;text-align:left;font-family:system-ui,-apple-system,'Segoe UI',Roboto,sans-serif;font-size:16px;line-height:1.5">
${body}
</div>
<!--[if mso]></td></tr></table><![endif]-->
</td></tr></table>
</body>
</html>
`
}

function htmlOf(block: Block): string {
  switch (block.kind) {
    case 'lead':
      return `<p style="margin:0 0 16px;font-size:20px;line-height:1.35;font-weight:600">${escaped(block.text)}</p>`
    case 'heading':
      return `<h2 style="margin:24px 0 6px;font-size:16px;font-weight:700">${escaped(block.text)}</h2>`
    case 'text':
      return `<p style="margin:0 0 12px">${escaped(block.text)}</p>`
    case 'small':
      return `<p style="margin:8px 0 0;font-size:13px;line-height:1.45;opacity:0.8">${escaped(block.text)}</p>`
    case 'list': {
      const items = block.items.map((item) => `<li style="margin:0 0 4px">${escaped(item)}</li>`).join('')
      return `<ul style="margin:0 0 12px;padding-left:22px">${items}</ul>`
    }
    case 'caution':
      return `<p style="margin:12px 0;padding:10px 12px;border-left:5px solid #c2410c"><strong>${escaped(block.title)}</strong> ${escaped(block.text)}</p>`
    case 'picture':
      return `<img src="cid:${block.cid}" alt="${escaped(block.alt)}" width="568" style="display:block;width:100%;max-width:568px;height:auto;border:0;background:#ffffff;margin:8px 0 4px">
<p style="margin:0 0 12px;font-size:13px;line-height:1.45;opacity:0.8">${escaped(block.caption)}</p>`
    case 'button':
      return `<p style="margin:20px 0"><a href="${escaped(block.url)}" style="display:inline-block;padding:13px 22px;background:#0b4f6c;color:#ffffff;text-decoration:none;border-radius:6px;font-weight:600">${escaped(block.label)}</a></p>`
    case 'link':
      return `<p style="margin:6px 0"><a href="${escaped(block.url)}" style="display:inline-block;padding:10px 0">${escaped(block.label)}</a></p>`
  }
}

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
}

function escaped(text: string): string {
  return text.replace(/[&<>"']/g, (each) => ENTITIES[each]!)
}
