// Package page is the whole job in the browser of the same machine: the measures as a
// form, the drawing beside it as they are typed, settings, margins and sheet under it.
//
// The server works from what a request brings. The text of the case travels with every
// request and back again, changed only where an entry was changed, so that the text is the
// truth in the page as it is in a file, and several windows do not disturb each other.
//
// What is typed and not saved yet is kept in the folder .sightpost of the folder that was
// given, a file for each window: the address of the page leads back to it, whatever ended the
// page or the program, and it goes once it is saved or filed. Where the server was reached is
// kept there too, for the pages that are still open when it is started again.
//
// # Who may ask
//
// It listens on the loopback address alone, and asks every request for
//
//   - a Host that is this server's, so that a name that another site points here does
//     not reach it;
//   - an Origin that is this server's, and no sign that another site sent it;
//   - a cookie that only whoever was given the first address has. Cookies know no
//     ports, so that a browser would show it to another user's server on another port;
//     but it is bound to a path that nobody else can know.
//
// The page itself may load nothing from elsewhere and run no script but its own.
package page
