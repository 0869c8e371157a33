# What stands on the papers and their pages besides what is said of the piece: headings, columns, labels.

# Every paper
page-of = Page { $page } of { $pages }
