// Package fruit says when logs that are through bring mushrooms.
//
// A Watch reads a draw of weather and lists the
// days on which a strain could
// start a flush, with the day on which that flush would be picked. Walk then
// goes through the list for one pile: whether it answers is drawn, and only
// logs that are through and rested do.
package fruit
