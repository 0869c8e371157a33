// On a narrow screen fonts come after the photograph, since a slow telephone would fetch them in its stead: this page is read
// in the reader's own fonts, and the next one finds the others already there. Without this file it stays with the former.

const fonts = [...document.head.querySelectorAll('link[media="(min-width: 40rem)"]')];
const wanted = rel => fonts.filter(link => link.rel === rel).forEach(link => { link.media = 'all'; });

if (document.referrer.startsWith(`${location.origin}/`)) wanted('stylesheet');
else addEventListener('load', () => wanted('preload'));
