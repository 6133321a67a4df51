import { Link } from 'react-router'
import { changed } from './finding-filter.js'
import { t } from './findings-words.js'

interface PagesProps {
  page: number
  pages: number
  query: URLSearchParams
}

/** Ways to the pages before and after; the number stands in the address. */
export function Pages({ page, pages, query }: PagesProps) {
  if (pages === 1) return null
  const to = (number: number) => ({ search: `?${changed(query, 'page', number === 1 ? '' : String(number))}` })
  return (
    <nav className="finding-pages" aria-label={t('pages.label')}>
      {page > 1 && (
        <Link className="button" to={to(page - 1)} rel="prev">
          {t('pages.before')}
        </Link>
      )}
      <span>{t('pages.page', { page, pages })}</span>
      {page < pages && (
        <Link className="button" to={to(page + 1)} rel="next">
          {t('pages.next')}
        </Link>
      )}
    </nav>
  )
}
