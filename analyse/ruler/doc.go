// Package ruler finds the ticks of depth that devices draw beside a picture, and says
// how many pixels there are to a centimetre. It is arithmetic on a grey picture; what
// it is not certain of it says, and gives no number.
//
// A ruler is a column of small marks that stand alike, one below the other, at equal
// distances. What a distance stands for is not taken from the scale in the header,
// which is what the ruler shall be held against: it follows from the marks that are
// larger, or from the number of marks and the stated depth of the picture.
package ruler
