# gnuplot SHOP-effect.gp draws SHOP-effect.png beside this file
if (!exists('picture')) picture = 'png'   # png, svg or pdf
wide = 1200; tall = 292
name = exists('ARG0') && strlen(ARG0) > 3 ? ARG0[1:strlen(ARG0)-3] : 'SHOP-effect'
if (exists('beside')) name = name.beside   # until it is whole
if (picture eq 'svg') set terminal svg noenhanced size wide,tall font 'sans-serif,12' background 'white'
if (picture eq 'pdf') set terminal pdfcairo noenhanced size wide/100.0,tall/100.0 font 'sans,10'
if (picture ne 'svg' && picture ne 'pdf') set terminal pngcairo noenhanced size wide,tall font 'sans,11'
mark = picture eq 'svg' || picture eq 'pdf' ? 0.65 : 1.0   # these two draw points larger
set output name.'.'.picture
set encoding utf8
set border 3 lc rgb '#555555'
set tics nomirror out
# row; then for each panel low, nominal, measured, high, least, greatest
$motors << EOD
4 -34.18 -27.71 NaN -7.36 -34.18 -7.36 0.31 -0.84 NaN -1.04 -1.04 0.31 44.84 33.22 NaN 6.94 6.94 44.84 0.82 0.79 NaN 0.29 0.29 0.82 -2.90 -2.74 NaN -1.01 -2.90 -1.01
3 -7.47 0.92 NaN 27.89 -7.47 27.89 -1.26 0.20 NaN 10.15 -1.26 10.15 7.31 -0.83 NaN -19.74 -19.74 7.31 0.30 -0.04 NaN -1.78 -1.78 0.30 -1.15 0.16 NaN 6.90 -1.15 6.90
2 NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN
1 NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN NaN
EOD
set multiplot title 'Feeder SHOP: change from the same load at rated volts' font ',14'
set lmargin at screen 0.08; set rmargin at screen 0.97
set tmargin at screen 1 - 42.0/tall; set bmargin at screen 1 - 70.0/tall
unset border; unset tics; unset xlabel; unset ylabel; unset title
set key center center horizontal width 2
set xrange [0:1]; set yrange [0:1]
plot NaN with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' title 'low case', \
  NaN with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' title 'nominal case', \
  NaN with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' title 'high case'
unset key; set border 3 lc rgb '#555555'; set tics nomirror out
set grid lc rgb '#d5d5d5'
set tmargin at screen 1 - 90.0/tall; set bmargin at screen 72.0/tall
set arrow 1 from 0, graph 0 to 0, graph 1 nohead lw 1.5 lc rgb '#7a7a7a'
set ytics nomirror out ('LATHE' 4, 'SAW' 3, 'BENCH (no calc)' 2, 'GRIND (no calc)' 1)
set yrange [0.3:4.7]
set lmargin at screen 0.150; set rmargin at screen 0.300
set xlabel 'Starting torque, %'
set xrange [-41.63:35.34]
set xtics 20.0 nomirror out
plot $motors using 6:1:($7-$6):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 2:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 3:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 5:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.320; set rmargin at screen 0.470
set xlabel 'Running amps, %'
set xrange [-2.63:11.52]
set xtics 5.0 nomirror out
unset ytics
plot $motors using 12:1:($13-$12):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 8:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 9:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 11:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.490; set rmargin at screen 0.640
set xlabel 'Slip, %'
set xrange [-27.49:52.59]
set xtics 20.0 nomirror out
unset ytics
plot $motors using 18:1:($19-$18):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 14:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 15:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 17:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.660; set rmargin at screen 0.810
set xlabel 'Efficiency, points'
set xrange [-2.09:1.13]
set xtics 1.0 nomirror out
unset ytics
plot $motors using 24:1:($25-$24):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 20:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 21:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 23:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.830; set rmargin at screen 0.980
set xlabel 'Winding rise, K'
set xrange [-4.08:8.08]
set xtics 5.0 nomirror out
unset ytics
plot $motors using 30:1:($31-$30):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 26:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 27:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 29:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
unset multiplot
unset output
