# gnuplot FIRE-sag.gp draws FIRE-sag.png beside this file
if (!exists('picture')) picture = 'png'   # png, svg or pdf
wide = 1100; tall = 758
name = exists('ARG0') && strlen(ARG0) > 3 ? ARG0[1:strlen(ARG0)-3] : 'FIRE-sag'
if (picture eq 'svg') set terminal svg noenhanced size wide,tall font 'sans-serif,12' background 'white'
if (picture eq 'pdf') set terminal pdfcairo noenhanced size wide/100.0,tall/100.0 font 'sans,10'
if (picture ne 'svg' && picture ne 'pdf') set terminal pngcairo noenhanced size wide,tall font 'sans,11'
mark = picture eq 'svg' || picture eq 'pdf' ? 0.65 : 1.0   # these two draw points larger
set output name.'.'.picture
set encoding utf8
set border 3 lc rgb '#555555'
set tics nomirror out
# s; volts before the starter, at the motor, board, service, %; amps; rev/min. span: s; least and most
$start1 << EOD
-0.0596 102.94 NaN 98.65 98.67 0.0 0.0
0.0000 102.94 NaN 98.65 98.67 0.0 0.0
0.0000 96.94 NaN 93.43 95.09 520.1 0.0
0.0040 96.90 NaN 93.40 95.06 519.0 15.0
0.0118 96.86 NaN 93.36 95.02 517.0 44.1
0.0242 96.85 NaN 93.35 95.00 514.1 90.7
0.0451 96.88 NaN 93.37 95.01 509.3 169.5
0.0658 96.93 NaN 93.42 95.04 504.3 247.4
0.0871 96.99 NaN 93.47 95.08 499.1 325.9
0.1195 97.08 NaN 93.55 95.14 490.9 442.3
0.1522 97.17 NaN 93.63 95.20 482.4 555.6
0.1853 97.28 NaN 93.72 95.27 473.4 666.8
0.2192 97.38 NaN 93.82 95.34 464.0 776.8
0.2543 97.50 NaN 93.92 95.42 454.0 887.1
0.2919 97.63 NaN 94.03 95.50 443.0 1001.2
0.3351 97.78 NaN 94.17 95.60 429.7 1128.6
0.3643 97.88 NaN 94.26 95.67 420.1 1213.4
0.3861 97.97 NaN 94.34 95.74 412.2 1276.8
0.4059 98.06 NaN 94.42 95.80 404.2 1335.2
0.4224 98.14 NaN 94.50 95.87 396.4 1384.9
0.4362 98.22 NaN 94.58 95.94 388.6 1427.6
0.4480 98.31 NaN 94.66 96.01 380.5 1465.6
0.4584 98.41 NaN 94.75 96.09 371.7 1500.5
0.4678 98.52 NaN 94.85 96.18 361.7 1533.3
0.4772 98.67 NaN 95.00 96.30 348.5 1567.9
0.4859 98.87 NaN 95.18 96.44 332.1 1601.3
0.4942 99.14 NaN 95.42 96.64 310.4 1635.0
0.5033 99.57 NaN 95.80 96.92 277.2 1672.0
0.5080 99.85 NaN 96.05 97.10 255.5 1690.6
0.5136 100.24 NaN 96.39 97.33 225.6 1711.7
0.5190 100.64 NaN 96.73 97.56 194.7 1729.6
0.5247 101.03 NaN 97.07 97.77 163.9 1745.1
0.5302 101.36 NaN 97.34 97.94 137.6 1756.6
0.5352 101.60 NaN 97.54 98.06 117.8 1764.4
0.5408 101.77 NaN 97.69 98.14 102.5 1770.0
0.5472 101.90 NaN 97.79 98.19 91.4 1774.0
0.5552 101.98 NaN 97.86 98.23 84.0 1776.6
0.5662 102.03 NaN 97.90 98.25 79.9 1778.0
0.5835 102.05 NaN 97.91 98.26 78.2 1778.6
0.6184 102.05 NaN 97.92 98.26 77.9 1778.7
0.7232 102.06 NaN 97.92 98.26 78.0 1778.7
1.0223 102.06 NaN 97.92 98.27 78.0 1778.7
EOD
$span1 << EOD
0.0000 96.85 97.08 519.2 520.1 0.0 0.0
0.0040 96.81 97.04 518.0 519.0 8.7 24.1
0.0092 96.78 97.02 516.5 517.9 20.1 55.4
0.0118 96.78 97.00 515.8 517.6 25.7 71.0
0.0191 96.78 96.98 513.8 516.8 41.7 115.3
0.0242 96.79 96.97 512.5 516.2 52.8 146.3
0.0299 96.80 96.95 511.0 515.5 65.4 181.2
0.0335 96.81 96.95 510.1 515.2 73.2 202.7
0.0451 96.85 96.95 507.3 514.0 98.8 271.9
0.0533 96.87 96.94 505.2 513.1 117.0 321.4
0.0617 96.89 96.94 503.3 512.2 135.4 369.9
0.0658 96.91 96.94 502.3 511.8 144.5 393.7
0.0734 96.93 96.95 500.5 511.0 161.3 438.0
0.0871 96.96 96.99 497.4 509.5 191.5 514.8
0.0933 96.96 97.00 496.0 508.8 205.2 549.8
0.1066 96.97 97.04 493.1 507.4 234.5 622.0
0.1134 96.98 97.06 491.5 506.6 249.2 659.0
0.1195 96.99 97.08 490.2 505.9 262.5 691.3
0.1343 97.00 97.12 486.9 504.1 294.5 769.3
0.1522 97.02 97.17 482.4 502.0 333.2 860.4
0.1569 97.03 97.19 481.1 501.4 343.4 884.7
0.1648 97.04 97.21 479.0 500.5 360.5 923.9
0.1836 97.06 97.27 473.9 497.9 400.0 1017.5
0.2015 97.09 97.33 468.9 495.4 437.8 1105.7
0.2157 97.10 97.37 464.6 493.5 467.7 1175.8
0.2192 97.11 97.38 463.1 493.0 475.0 1193.1
0.2270 97.12 97.41 459.7 492.0 491.6 1232.5
0.2393 97.14 97.45 453.2 490.0 516.7 1294.9
0.2483 97.16 97.50 446.9 488.5 535.4 1342.5
0.2543 97.16 97.55 441.8 487.6 547.7 1375.0
0.2633 97.18 97.65 432.3 486.1 566.2 1425.1
0.2704 97.19 97.76 422.2 485.0 580.7 1466.6
0.2768 97.20 97.89 410.0 483.9 593.9 1505.7
0.2827 97.21 98.07 395.0 483.0 606.0 1543.4
0.2883 97.22 98.31 375.4 482.1 617.6 1580.9
0.2919 97.23 98.53 358.0 481.5 624.9 1605.6
0.3005 97.24 99.24 303.6 480.1 642.7 1664.7
0.3042 97.25 99.66 271.7 479.4 650.2 1688.7
0.3078 97.26 100.11 237.2 478.6 657.4 1710.1
0.3112 97.26 100.53 203.6 477.9 664.3 1727.8
0.3147 97.27 100.93 171.8 477.2 671.4 1742.6
0.3181 97.28 101.25 145.1 476.5 678.3 1753.9
0.3215 97.29 101.50 123.8 475.8 685.2 1762.2
0.3253 97.30 101.68 107.2 475.0 692.7 1768.3
0.3295 97.30 101.82 94.8 474.1 701.4 1772.8
0.3348 97.32 101.91 86.4 473.0 712.1 1775.8
0.3419 97.33 101.96 81.3 471.6 726.3 1777.6
0.3524 97.36 101.99 79.0 469.4 747.7 1778.4
0.3643 97.38 102.00 78.6 466.9 771.7 1778.5
0.3717 97.40 102.00 78.4 465.4 786.7 1778.6
0.3861 97.43 102.00 78.4 462.4 815.7 1778.6
0.4059 97.47 102.00 78.4 458.3 855.8 1778.6
0.4121 97.49 102.00 78.4 457.0 868.4 1778.6
0.4224 97.52 102.00 78.4 454.3 889.2 1778.6
0.4262 97.53 102.00 78.4 453.3 896.8 1778.6
0.4362 97.56 102.00 78.4 450.6 916.9 1778.6
0.4480 97.59 102.00 78.4 447.4 940.8 1778.6
0.4584 97.63 102.00 78.4 444.6 961.7 1778.6
0.4678 97.65 102.00 78.4 442.1 980.6 1778.6
0.4772 97.68 102.00 78.4 439.6 999.6 1778.6
0.4816 97.69 102.00 78.4 438.4 1008.6 1778.6
0.4859 97.71 102.00 78.4 437.0 1017.2 1778.6
0.4942 97.74 102.00 78.4 434.2 1034.2 1778.6
0.5033 97.78 102.00 78.4 431.3 1052.6 1778.6
0.5080 97.79 102.00 78.4 429.7 1062.1 1778.6
0.5136 97.81 102.00 78.4 427.9 1073.6 1778.6
0.5190 97.83 102.00 78.4 426.1 1084.7 1778.6
0.5247 97.86 102.00 78.4 424.2 1096.2 1778.6
0.5302 97.88 102.00 78.4 422.4 1107.3 1778.6
0.5352 97.90 102.00 78.4 420.7 1117.7 1778.6
0.5408 97.92 102.00 78.4 418.9 1128.9 1778.6
0.5438 97.93 102.00 78.4 417.9 1135.0 1778.6
0.5472 97.94 102.00 78.4 416.6 1142.0 1778.6
0.5552 97.98 102.00 78.4 413.3 1158.5 1778.6
0.5662 98.03 102.03 78.4 408.9 1181.2 1778.6
0.5835 98.11 102.05 78.2 401.9 1216.8 1778.6
0.5897 98.14 102.05 78.2 399.4 1229.6 1778.6
0.6070 98.22 102.05 78.0 392.4 1265.3 1778.7
0.6184 98.29 102.05 77.9 386.8 1289.1 1778.7
0.6646 98.56 102.05 77.9 364.1 1385.5 1778.7
0.7069 98.85 102.06 78.0 339.0 1475.0 1778.7
0.7232 98.99 102.06 78.0 327.3 1510.2 1778.7
0.7365 99.11 102.06 78.0 317.7 1538.9 1778.7
0.7608 99.37 102.06 78.0 296.0 1592.4 1778.7
0.7857 99.74 102.06 78.0 265.5 1648.1 1778.7
0.7934 99.89 102.06 78.0 253.2 1665.2 1778.7
0.8073 100.23 102.06 78.0 226.5 1695.2 1778.7
0.8183 100.57 102.06 78.0 200.7 1717.2 1778.7
0.8291 100.93 102.06 78.0 172.8 1736.4 1778.7
0.8377 101.23 102.06 78.0 150.1 1749.4 1778.7
0.8470 101.53 102.06 78.0 126.6 1760.4 1778.7
0.8554 101.75 102.06 78.0 109.1 1767.4 1778.7
0.8644 101.91 102.06 78.0 95.9 1772.4 1778.7
0.8749 102.00 102.06 78.0 86.7 1775.7 1778.7
0.8885 102.00 102.09 78.0 80.9 1777.7 1778.7
0.9081 102.00 102.12 78.0 78.4 1778.6 1778.7
0.9421 102.00 102.13 77.2 78.4 1778.6 1779.0
0.9940 102.00 102.14 77.2 78.4 1778.6 1779.0
EOD
set multiplot title 'Feeder FIRE: each start alone, nominal case' font ',14'
set lmargin at screen 0.08; set rmargin at screen 0.97
set tmargin at screen 1 - 42.0/tall; set bmargin at screen 1 - 70.0/tall
unset border; unset tics; unset xlabel; unset ylabel; unset title
set key center center horizontal width 2
set xrange [0:1]; set yrange [0:1]
set label 20 'JP-1' at screen 0.03, screen 16.0/tall left textcolor rgb '#555555'
set label 21 'Dip under 1 % and up to speed within 1 s: 1' at screen 0.03, screen 34.0/tall left textcolor rgb '#555555'
plot NaN with lines lw 2 lc rgb '#1a1a1a' title 'before starter, % plate', \
  NaN with lines lw 2 lc rgb '#0f766e' title 'board, % nominal', \
  NaN with lines lw 2 lc rgb '#b45309' title 'service, % nominal', \
  NaN with filledcurves fs solid 1 noborder fc rgb '#e3e0ea' title 'easy to hard', \
  NaN with lines lw 1 dt 2 lc rgb '#b91c1c' title 'limit', \
  NaN with lines lw 1 dt 3 lc rgb '#555555' title 'closes, changes over'
unset key; set border 3 lc rgb '#555555'; set tics nomirror out
set grid lc rgb '#d5d5d5'
unset arrow; unset label; unset title
set xrange [-0.0596:0.9940]; set xtics autofreq nomirror out; set format x ''
set xlabel ''; set ylabel 'Volts, %'
set yrange [66:107]; set ytics 10 nomirror out
set tmargin at screen 1 - (162.0 + 0*600.0)/tall; set bmargin at screen 1 - (392.0 + 0*600.0)/tall
set lmargin at screen 0.10; set rmargin at screen 0.97
set arrow 1 from 0.0000, graph 0 to 0.0000, graph 1 nohead front lw 1 dt 3 lc rgb '#555555'
set arrow 11 from graph 0, first 80.0 to graph 1, first 80.0 nohead front lw 1 dt 2 lc rgb '#b91c1c'
set label 11 'before the starter 80' at graph 0.995, first 80.0 right offset 0,0.45 font ',9' textcolor rgb '#b91c1c'
set arrow 12 from graph 0, first 70.0 to graph 1, first 70.0 nohead front lw 1 dt 2 lc rgb '#b91c1c'
set label 12 'contactors 70' at graph 0.995, first 70.0 right offset 0,0.45 font ',9' textcolor rgb '#b91c1c'
set arrow 13 from graph 0, first 85.0 to graph 1, first 85.0 nohead front lw 1 dt 2 lc rgb '#b91c1c'
set label 13 'board of a fire pump 85' at graph 0.995, first 85.0 right offset 0,0.45 font ',9' textcolor rgb '#b91c1c'
set label 10 'dip 5.4 %, peak 520 A, to speed 0.53 s (0.32 to 0.85)' at graph 0.5, graph 1 center offset 0,0.8 textcolor rgb '#334155'
set title 'FP-1: 75 hp, 460 V, across' offset 0,0.9
plot $span1 using 1:2:3 with filledcurves fs solid 1 noborder fc rgb '#e3e0ea' notitle, \
  $start1 using 1:5 with lines lw 2 lc rgb '#b45309' notitle, \
  $start1 using 1:4 with lines lw 2 lc rgb '#0f766e' notitle, \
  $start1 using 1:2 with lines lw 2 lc rgb '#1a1a1a' notitle
unset arrow; unset label; unset title
set xrange [-0.0596:0.9940]; set xtics autofreq nomirror out; set format x ''
set xlabel ''; set ylabel 'Line, A'
set yrange [0:551.31]; set ytics 200.00 nomirror out
set tmargin at screen 1 - (408.0 + 0*600.0)/tall; set bmargin at screen 1 - (513.0 + 0*600.0)/tall
set lmargin at screen 0.10; set rmargin at screen 0.97
set arrow 1 from 0.0000, graph 0 to 0.0000, graph 1 nohead front lw 1 dt 3 lc rgb '#555555'
plot $span1 using 1:4:5 with filledcurves fs solid 1 noborder fc rgb '#e3e0ea' notitle, \
  $start1 using 1:6 with lines lw 2 lc rgb '#1a1a1a' notitle
unset arrow; unset label; unset title
set xrange [-0.0596:0.9940]; set xtics autofreq nomirror out; set format x '%g'
set xlabel 'Time from closing, s'; set ylabel 'Speed, rev/min'
set yrange [0:1908.00]; set ytics 500.00 nomirror out
set tmargin at screen 1 - (529.0 + 0*600.0)/tall; set bmargin at screen 1 - (634.0 + 0*600.0)/tall
set lmargin at screen 0.10; set rmargin at screen 0.97
set arrow 1 from 0.0000, graph 0 to 0.0000, graph 1 nohead front lw 1 dt 3 lc rgb '#555555'
plot $span1 using 1:6:7 with filledcurves fs solid 1 noborder fc rgb '#e3e0ea' notitle, \
  $start1 using 1:7 with lines lw 2 lc rgb '#1a1a1a' notitle
unset multiplot
unset output
