# gnuplot COLD-effect.gp draws COLD-effect.png beside this file
if (!exists('picture')) picture = 'png'   # png, svg or pdf
wide = 1200; tall = 352
name = exists('ARG0') && strlen(ARG0) > 3 ? ARG0[1:strlen(ARG0)-3] : 'COLD-effect'
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
6 9.84 16.85 NaN 30.83 9.84 30.83 -3.09 -4.81 NaN -7.19 -7.19 -3.09 -8.59 -13.75 NaN -22.28 -22.28 -8.59 0.10 0.15 NaN 0.19 0.10 0.19 -1.67 -2.40 NaN -2.96 -2.96 -1.67
5 9.67 16.55 NaN 30.28 9.67 30.28 -2.48 -3.76 NaN -5.21 -5.21 -2.48 -8.33 -13.37 NaN -21.72 -21.72 -8.33 0.08 0.10 NaN 0.10 0.08 0.10 -1.04 -1.39 NaN -1.26 -1.39 -1.04
4 10.10 17.29 NaN 31.66 10.10 31.66 0.27 0.98 NaN 3.67 0.27 3.67 -7.79 -12.53 NaN -20.44 -20.44 -7.79 -0.02 -0.10 NaN -0.39 -0.39 -0.02 0.56 1.36 NaN 3.92 0.56 3.92
3 10.10 17.29 NaN 31.66 10.10 31.66 0.60 1.56 NaN 4.75 0.60 4.75 -7.75 -12.47 NaN -20.35 -20.35 -7.75 -0.08 -0.19 NaN -0.55 -0.55 -0.08 0.85 1.84 NaN 4.71 0.85 4.71
2 9.80 16.77 NaN 30.68 9.80 30.68 0.30 1.05 NaN 3.88 0.30 3.88 -7.92 -12.73 NaN -20.77 -20.77 -7.92 -0.07 -0.19 NaN -0.60 -0.60 -0.07 0.80 1.79 NaN 4.84 0.80 4.84
1 9.28 15.88 NaN 29.00 9.28 29.00 1.27 2.74 NaN 7.07 1.27 7.07 -7.84 -12.61 NaN -20.59 -20.59 -7.84 -0.25 -0.52 NaN -1.31 -1.31 -0.25 1.72 3.42 NaN 8.07 1.72 8.07
EOD
set multiplot title 'Feeder COLD: change from the same load at rated volts' font ',14'
set lmargin at screen 0.08; set rmargin at screen 0.97
set tmargin at screen 1 - 42.0/tall; set bmargin at screen 1 - 70.0/tall
unset border; unset tics
set key center center horizontal width 2
set xrange [0:1]; set yrange [0:1]
plot NaN with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' title 'low case', \
  NaN with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' title 'nominal case', \
  NaN with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' title 'high case'
unset key; set border 3 lc rgb '#555555'; set tics nomirror out
set tmargin at screen 1 - 90.0/tall; set bmargin at screen 72.0/tall
set grid lc rgb '#d5d5d5'
set arrow 1 from 0, graph 0 to 0, graph 1 nohead lw 1.5 lc rgb '#7a7a7a'
set ytics nomirror out ('CP-1' 6, 'CP-2' 5, 'EVAP-1' 4, 'EVAP-2' 3, 'EVAP-3' 2, 'EVAP-4' 1)
set yrange [0.3:6.7]
set lmargin at screen 0.150; set rmargin at screen 0.300
set xlabel 'Starting torque, %'
set xrange [-3.80:35.46]
set xtics 10.0 nomirror out
plot $motors using 6:1:($7-$6):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 2:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 3:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 5:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.320; set rmargin at screen 0.470
set xlabel 'Running amps, %'
set xrange [-8.90:8.78]
set xtics 5.0 nomirror out
unset ytics
plot $motors using 12:1:($13-$12):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 8:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 9:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 11:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.490; set rmargin at screen 0.640
set xlabel 'Slip, %'
set xrange [-24.95:2.67]
set xtics 10.0 nomirror out
unset ytics
plot $motors using 18:1:($19-$18):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 14:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 15:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 17:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.660; set rmargin at screen 0.810
set xlabel 'Efficiency, points'
set xrange [-1.49:0.37]
set xtics 0.5 nomirror out
unset ytics
plot $motors using 24:1:($25-$24):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 20:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 21:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 23:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.830; set rmargin at screen 0.980
set xlabel 'Winding rise, K'
set xrange [-4.28:9.39]
set xtics 5.0 nomirror out
unset ytics
plot $motors using 30:1:($31-$30):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 26:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 27:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 29:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
unset multiplot
unset output
